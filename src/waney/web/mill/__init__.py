"""The page at the mill: what it holds, what comes next, what a tap writes."""
