"""Messy lists of invented suppliers, each with the rows that must come out of it, worked out by hand.

A row is spelled ``state number field=value ...``; lengths in mm, pressures in bar, as the fields of data_schema say:
1 in = 25.4 mm, 1 psi = 0.0689476 bar, 1 US gallon = 3.785412 L (NIST SP 811, 2008, appendix B.8).
"""
