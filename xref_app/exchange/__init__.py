"""Files that come in and go out: the catalog as a Data Package (a folder of CSV with one datapackage.json).

Every table is read and written by its Table Schema in data_schema; no column is listed here.
"""
