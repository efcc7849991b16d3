"""The comforts of a home: what its file says of them, and what it leaves out."""
