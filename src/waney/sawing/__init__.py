"""From a log, a mill and wants to a saw plan: settings, optimisers, bounds, checker, bed heights."""
