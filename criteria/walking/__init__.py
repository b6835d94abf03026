"""A plan walked: what stands in the way, the widest way past it, and where that is narrow."""
