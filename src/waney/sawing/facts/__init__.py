"""Facts of a plan besides its money: what stands beside each cut, piece and plan on paper."""
