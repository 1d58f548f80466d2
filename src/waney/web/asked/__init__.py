"""What is asked of a worker, and what it answers: bare values, so that pages need nothing of what computes them."""
