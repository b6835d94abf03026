"""What each page shows, made ready for its template: read, reckoned and put in words."""
