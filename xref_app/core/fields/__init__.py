"""The one definition of every field and table, read from data_schema at run time.

Nothing else in the program lists fields: forms, columns, import, validation and "measure next" ask here.
"""
