"""Recipe files: finding, reading and checking them."""
