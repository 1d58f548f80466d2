"""How water leaves wood: in the open, in a kiln, in vacuum; how long it takes, how safely, how hot the core gets."""
