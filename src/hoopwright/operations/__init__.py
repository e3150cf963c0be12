"""The vocabulary between the items and the cloth: what hands and machine do, in order."""
