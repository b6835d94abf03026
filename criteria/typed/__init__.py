"""What people type: quantities, the columns that take them, and tables of them."""
