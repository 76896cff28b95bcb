"""The names of LIDO, the XML in which museums exchange records of objects; reading and writing share them.

Source: LIDO v1.1 schema (2021), lido-schema.org, CIDOC working group Data Harvesting and Interchange. Element
names are those of the schema, written down from memory and checked against museum records by nobody yet.
"""

from objects.core.lists import plain_heading

NAMESPACE = "http://www.lido-schema.org"
CONCEPTS = "http://www.w3.org/2004/02/skos/core#"  # terms of v1.1 may be SKOS concepts
LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
NAMESPACES = {"lido": NAMESPACE, "skos": CONCEPTS}
RECORD = f"{{{NAMESPACE}}}lido"
TYPE, PREFERRED = f"{{{NAMESPACE}}}type", f"{{{NAMESPACE}}}pref"  # attributes

# Where each of our headings is found, the best place first. Paths begin at lido:lido.
_IDENTIFICATION = "lido:descriptiveMetadata/lido:objectIdentificationWrap"
_CLASSIFICATION = "lido:descriptiveMetadata/lido:objectClassificationWrap"
REPOSITORIES = f"{_IDENTIFICATION}/lido:repositoryWrap/lido:repositorySet"
TITLE = f"{_IDENTIFICATION}/lido:titleWrap/lido:titleSet/lido:appellationValue"
WORK_TYPE = f"{_CLASSIFICATION}/lido:objectWorkTypeWrap/lido:objectWorkType"
CLASS = f"{_CLASSIFICATION}/lido:classificationWrap/lido:classification"
DESCRIPTION = (
    f"{_IDENTIFICATION}/lido:objectDescriptionWrap/lido:objectDescriptionSet/lido:descriptiveNoteValue"
)
RECORD_ID = "lido:administrativeMetadata/lido:recordWrap/lido:recordID"
MEASUREMENT_SETS = f"{_IDENTIFICATION}/lido:objectMeasurementsWrap/lido:objectMeasurementsSet"
MATERIAL_SETS = (
    f"{_IDENTIFICATION}/lido:objectMaterialsTechWrap/lido:objectMaterialsTechSet",
    "lido:descriptiveMetadata/lido:eventWrap/lido:eventSet/lido:event/lido:eventMaterialsTech",  # as in v1.0
)

# What measurements are called; the first word of each is the one to write.
MEASUREMENT_TYPES = {
    "height": ("height", "Höhe", "hauteur", "hoogte", "altura", "alto"),
    "width": ("width", "breadth", "Breite", "largeur", "breedte", "ancho", "anchura"),
    "depth": ("depth", "Tiefe", "profondeur", "diepte", "profundidad", "fondo"),
    "thickness": ("thickness", "Dicke", "Stärke", "épaisseur", "dikte", "grosor", "espesor"),
    "length": ("length", "Länge", "longueur", "lengte", "longitud", "largo"),
    "diameter": ("diameter", "Durchmesser", "diamètre", "diámetro"),
    "circumference": ("circumference", "Umfang", "circonférence", "omtrek", "circunferencia"),
    "weight": ("weight", "mass", "Gewicht", "Masse", "poids", "peso"),
    "quantity": ("count", "quantity", "number of parts", "number of pieces", "Anzahl", "Stückzahl", "nombre"),
}
# Unit symbols and the words they go by.
UNITS = {
    "mm": ("mm", "millimetre", "millimeter", "millimètre", "milímetro"),
    "cm": ("cm", "centimetre", "centimeter", "Zentimeter", "centimètre", "centímetro"),
    "m": ("m", "metre", "meter", "mètre", "metro"),
    "in": ("in", "inch", "inches", "Zoll", "pouce", "pulgada"),
    "ft": ("ft", "foot", "feet"),
    "g": ("g", "gram", "gramme", "Gramm", "gramo"),
    "kg": ("kg", "kilogram", "kilogramme", "Kilogramm", "kilogramo"),
    "lb": ("lb", "lbs", "pound", "pounds"),
    "oz": ("oz", "ounce", "ounces"),
}
TYPE_OF = {plain_heading(word): key for key, words in MEASUREMENT_TYPES.items() for word in words}
UNIT_OF = {plain_heading(word): key for key, words in UNITS.items() for word in words}
