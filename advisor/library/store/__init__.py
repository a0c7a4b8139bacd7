"""The database of kept cases: tables, versions, adding, finding, holding, erasing."""
