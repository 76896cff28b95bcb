"""What is computed about boards without a database."""
