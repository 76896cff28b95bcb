"""What changes the records, one noun a file: fetch, ask the core, store, in one transaction."""
