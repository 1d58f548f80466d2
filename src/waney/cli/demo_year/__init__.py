"""The demo yard's year: an invented valley, written down as any yard would, through the services alone."""
