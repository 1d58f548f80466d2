"""One piece of wood: its faces, its place in the log, its measures, its rings, how it will move."""
