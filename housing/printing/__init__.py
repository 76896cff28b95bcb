"""Printed pages: cut sheets for the bench and labels for the boxes, as web pages and as PDF."""
