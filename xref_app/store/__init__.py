"""Where the catalog lies: tables, the one way a file is opened, reading, writing, history, copies and upgrades."""
