"""What pages ask of the catalogue; nothing here writes."""
