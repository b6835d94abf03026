"""What jurors usually ask, one module a part of the building, each tied to what answers it."""
