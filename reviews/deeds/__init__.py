"""What people do, each module named for the deed: checks, versions and transactions."""
