"""The app: the yard book as pages, served from the yard's own machine."""
