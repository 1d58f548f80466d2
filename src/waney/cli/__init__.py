"""The commands. They read files, call one function, print; no arithmetic here."""
