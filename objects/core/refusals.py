"""The parent of all refusals, so that none is mistaken for a fault of the program."""


class Refusal(ValueError):
    """Something cannot be done as asked; the message is a sentence for the reader, with a way out."""
