# What `import typing` finds on the phone: the names the core imports, without meaning.
Any = None
