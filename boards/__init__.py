"""Boards, sheets and stock, and how blanks are laid out on sheets."""
