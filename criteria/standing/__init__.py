"""How a building stands on its feet: its centre of mass, what tips it, what each leg carries."""
