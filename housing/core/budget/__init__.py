"""What a campaign costs: from the facts of its boxes and sheets to lines, ranges and months."""
