"""What wood costs and earns on its way: fetching it, letting it wait, cutting it to length."""
