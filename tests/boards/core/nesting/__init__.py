"""Nesting: layouts made, judged and compared with what is known of them."""
