"""The independent checker of saw plans: its own polygons, chords, lies and money, written from docs/design/sawing.md."""
