"""Mill and wants sheets: what somebody typed, read into values, every blank said with its default."""
