"""LIDO records for tests. Element names: LIDO v1.1 schema, lido-schema.org, written down from memory."""

from collections.abc import Mapping


def wrapped(*records: str) -> bytes:
    """A file of records; the first begins on line 3."""
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<lido:lidoWrap xmlns:lido="http://www.lido-schema.org">',
    ]
    return "\n".join([*lines, *records, "</lido:lidoWrap>"]).encode()


def measurement(kind: str, value: str) -> str:
    """One measurement set. value: figure and unit."""
    figure, _, unit = value.partition(" ")
    return (
        f"<lido:measurementsSet><lido:measurementType>{kind}</lido:measurementType>"
        f"<lido:measurementUnit>{unit}</lido:measurementUnit>"
        f"<lido:measurementValue>{figure}</lido:measurementValue></lido:measurementsSet>"
    )


def measured(sides: Mapping[str, str], extent: str = "") -> str:
    extents = f"<lido:extentMeasurements>{extent}</lido:extentMeasurements>" if extent else ""
    sets = "".join(measurement(kind, value) for kind, value in sides.items())
    return (
        f"<lido:objectMeasurementsSet><lido:objectMeasurements>{sets}{extents}</lido:objectMeasurements>"
        "</lido:objectMeasurementsSet>"
    )


def record(number: str = "", title: str = "", sides: Mapping[str, str] | None = None, sets: str = "") -> str:
    """A record on several lines. sets: more measurement sets as XML."""
    return f"""<lido:lido>
<lido:lidoRecID lido:type="local">record {number}</lido:lidoRecID>
<lido:descriptiveMetadata xml:lang="en"><lido:objectIdentificationWrap>
<lido:titleWrap><lido:titleSet>
<lido:appellationValue>{title}</lido:appellationValue></lido:titleSet></lido:titleWrap>
<lido:repositoryWrap><lido:repositorySet>
<lido:workID>{number}</lido:workID></lido:repositorySet></lido:repositoryWrap>
<lido:objectMeasurementsWrap>{measured(sides or {})}{sets}</lido:objectMeasurementsWrap>
</lido:objectIdentificationWrap></lido:descriptiveMetadata>
</lido:lido>"""
