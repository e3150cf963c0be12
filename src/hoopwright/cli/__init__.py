"""The command shell."""
