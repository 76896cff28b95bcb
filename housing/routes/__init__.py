"""Addresses of the pages, one list a group of pages."""
