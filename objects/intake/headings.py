"""Other headings that catalogue lists use for our fields, in English, German, French, Dutch and Spanish."""

HEADINGS: dict[str, tuple[str, ...]] = {}
