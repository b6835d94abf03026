"""What pages and deeds read: worked out from what is kept, changing nothing."""
