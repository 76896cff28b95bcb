"""Other headings that catalogue lists use for our fields, in English, German, French, Dutch and Spanish.

Words of the trade: Spectrum 5.1 (Collections Trust) and CDWA (Getty) name the units of information,
dictionaries give the other languages; common practice, no source beyond that. Words that mean two things are
left out. Capitals, accents, signs and spaces do not count.
"""

HEADINGS: dict[str, tuple[str, ...]] = {
    "number": (
        *("accession number", "accession no", "accession", "acc no", "inventory number", "inventory no"),
        *("inv no", "museum number", "catalogue number", "catalog number", "cat no", "registration number"),
        *("reg no", "identifier", "object id", "id number", "reference number", "ref no"),
        *("Inventarnummer", "Inventar-Nr.", "Inv.-Nr.", "InvNr", "Objektnummer", "Objekt-Nr.", "Inventarnr"),
        *("numéro d'inventaire", "no d'inventaire", "n° d'inventaire", "numéro d'objet", "no inv"),
        *("inventarisnummer", "objectnummer", "inventarisnr"),
        *("número de inventario", "nº de inventario", "núm. inventario", "número de objeto"),
    ),
    "name": (
        *("object name", "title", "object title", "common name", "object type name", "item name"),
        *("Objektbezeichnung", "Bezeichnung", "Titel", "Objektname", "Gegenstand", "Objekttitel"),
        *("dénomination", "désignation", "titre", "nom de l'objet", "appellation"),
        *("objectnaam", "naam", "benaming"),
        *("nombre del objeto", "denominación", "título", "objeto"),
    ),
    "description": (
        *("brief description", "physical description", "object description"),
        *("Beschreibung", "Kurzbeschreibung", "Objektbeschreibung"),
        *("description sommaire", "description physique", "descriptif"),
        *("beschrijving", "omschrijving", "korte beschrijving"),
        *("descripción", "descripción breve"),
    ),
    "classification": (
        *("object type", "category", "object category", "class", "collection", "work type"),
        *("Klassifikation", "Objektart", "Objektgruppe", "Sachgruppe", "Kategorie", "Gattung", "Sammlung"),
        *("catégorie", "domaine", "type d'objet"),
        *("classificatie", "objectcategorie", "deelcollectie"),
        *("clasificación", "categoría", "tipo de objeto", "colección"),
    ),
    "materials": (
        *("material", "medium", "made of", "materials and techniques", "material and technique"),
        *("materials techniques", "Werkstoff", "Material/Technik", "Material und Technik"),
        *("matériau", "matériaux", "matière", "matières", "matériaux et techniques",),
        "matières et techniques",
        *("materiaal", "materialen", "materiaal en techniek", "materiales", "materia", "material y técnica"),
    ),
    "dimensions": (
        *("size", "measurements", "dimension", "object size", "overall dimensions", "overall size", "dims"),
        *("extent", "H x W x D", "HxWxD", "H x B x T", "HxBxT", "L x W x H", "LxWxH"),
        *("Maße", "Abmessungen", "Maßangaben", "Größe", "Objektmaße"),
        *("mesures", "dimensions de l'objet", "afmetingen", "afmeting", "maten", "formaat"),
        *("dimensiones", "medidas", "tamaño"),
    ),
    "height": (
        *("object height", "overall height", "height overall", "H", "Höhe", "Hoehe", "Objekthöhe", "hauteur"),
        *("hoogte", "altura", "alto"),
    ),
    "width": (
        *("object width", "overall width", "width overall", "breadth", "W", "Breite", "B", "largeur"),
        *("breedte", "ancho", "anchura"),
    ),
    "depth": (
        *("object depth", "overall depth", "depth overall", "thickness", "D", "Tiefe", "T"),
        *("Dicke", "Stärke", "profondeur", "épaisseur", "diepte", "dikte", "profundidad"),
        *("fondo", "grosor", "espesor"),
    ),
    "diameter": (
        *("overall diameter", "dia", "diam", "Ø", "Durchmesser", "Dm", "diamètre", "diámetro"),
    ),
    "length": (
        *("object length", "overall length", "length overall", "L", "Länge", "Laenge", "longueur", "lengte"),
        *("longitud", "largo"),
    ),
    "dimension_unit": (
        *("unit", "units", "unit of measurement", "measurement unit", "dimension unit", "dimensions unit"),
        *("size unit", "unit of measure", "UOM", "Einheit", "Maßeinheit", "unité", "unité de mesure"),
        *("eenheid", "meeteenheid", "unidad", "unidad de medida"),
    ),
    "may_lie": (
        *("may lie", "lying", "orientation", "storage orientation", "may be laid down", "way up"),
        *("Lagerung liegend", "Ausrichtung", "orientation de stockage", "ligging", "orientación"),
    ),
    "measured_with": (
        *("size includes", "measured including", "included in the size", "measured part", "measurement part"),
        *("dimension part", "part measured", "gemessener Teil", "Maße von", "partie mesurée", "gemeten deel"),
        *("parte medida",),
    ),
    "weight_g": (
        *("weight", "mass", "object weight", "weight kg", "weight g", "weight lb", "wt", "Gewicht", "poids"),
        "peso",
    ),
    "quantity": (
        *("number of objects", "number of items", "number of parts", "item count", "object count", "count"),
        *("pieces", "no of pieces", "no of parts", "no of items", "qty", "Anzahl", "Stückzahl", "Menge"),
        *("Anzahl Teile", "quantité", "nombre d'objets", "aantal", "aantal objecten", "cantidad"),
        *("número de piezas", "número de objetos"),
    ),
    "condition": (
        *("state", "condition grade", "condition rating", "object condition", "condition status"),
        *("Zustand", "Erhaltungszustand", "Erhaltung", "état", "état de conservation", "toestand"),
        *("conditie", "estado", "estado de conservación"),
    ),
    "fragility": (
        *("fragile", "vulnerability", "sensitivity", "handling sensitivity", "Zerbrechlichkeit"),
        *("Empfindlichkeit", "fragilité", "kwetsbaarheid", "breekbaarheid", "fragilidad"),
    ),
    "projecting_parts": (
        *("projections", "protruding parts", "protrusions", "fragile parts", "parts that project"),
        *("vorstehende Teile", "abstehende Teile", "parties saillantes", "uitstekende delen"),
        *("partes salientes",),
    ),
    "use": (
        *("usage", "frequency of use", "access frequency", "how often used"),
        *("Nutzung", "Nutzungshäufigkeit", "utilisation", "fréquence d'utilisation", "gebruik"),
        *("gebruiksfrequentie", "uso", "frecuencia de uso"),
    ),
    "significance": (
        *("importance", "significance grade", "collection grade", "Bedeutung"),
        *("Stellenwert", "importance patrimoniale", "betekenis", "waardestelling", "importancia"),
    ),
    "hazards": (
        *("hazard", "hazardous", "hazardous materials", "hazard note", "dangers", "health hazards"),
        *("Gefahren", "Gefahrstoffe", "Schadstoffe", "Gefährdung", "dangers sanitaires"),
        *("substances dangereuses", "gevaren", "gevaarlijke stoffen", "peligros", "sustancias peligrosas"),
    ),
    "location": (
        *("current location", "storage location", "permanent location", "normal location", "home location"),
        *("shelf", "store location", "shelf location", "shelfmark", "whereabouts"),
        *("Standort", "aktueller Standort", "Lagerort", "Depotstandort", "emplacement"),
        *("localisation", "emplacement actuel", "lieu de conservation", "standplaats", "huidige standplaats"),
        *("locatie", "bewaarplaats", "ubicación", "ubicación actual", "localización"),
    ),
    "priority": (
        *("urgency", "treatment priority", "rehousing priority", "Priorität", "Dringlichkeit", "priorité"),
        *("urgence", "prioriteit", "urgentie", "prioridad", "urgencia"),
    ),
    "present_housing": (
        *("housing", "current housing", "present box", "present storage", "current enclosure", "enclosure"),
        *("container", "packaging", "storage box", "Verpackung", "aktuelle Verpackung", "Behältnis"),
        *("conditionnement", "conditionnement actuel", "verpakking", "huidige verpakking", "embalaje"),
        *("contenedor", "embalaje actual"),
    ),
    "need": (
        *("housing need", "needs housing", "rehousing need", "needs rehousing", "needs box", "box needed"),
        *("housing required", "enclosure needed", "requires rehousing", "Umverpackung nötig", "Bedarf"),
        *("Verpackungsbedarf", "besoin de conditionnement", "à reconditionner", "verpakking nodig"),
        *("ompakken nodig", "necesita embalaje", "necesidad de embalaje"),
    ),
    "need_note": (
        *("need note", "housing note", "housing notes", "rehousing note", "storage note", "storage notes"),
        *("packing note", "packing notes", "Verpackungshinweis", "Hinweis zur Verpackung"),
        *("remarque conditionnement", "note de conditionnement", "opmerking verpakking"),
        *("nota de embalaje",),
    ),
    "photo": (
        *("image", "picture", "photograph", "photo file", "image file", "image filename"),
        *("Foto", "Bild", "Bilddatei", "Abbildung", "photographie", "fichier image", "afbeelding"),
        *("bestandsnaam afbeelding", "fotografía", "imagen", "archivo de imagen"),
    ),
}  # fmt: skip
