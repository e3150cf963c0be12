"""At the machine: the halts followed one by one, also on a tablet in the same room."""
