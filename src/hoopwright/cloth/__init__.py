"""The sheet stack: every operation carried out on a model of the cloth, and what follows from it."""
