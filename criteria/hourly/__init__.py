"""The year of one room, hour by hour: 8,760 hours, one zone, as its schedules say it is built.

The modules stand in the order of the heat: weather, sun, sky, shade, glass; slices, films, ground;
the room and its run; air; people and loads; panels, battery and tanks; and what came of it all.
Arrays of a year hold 8,760 figures; hour k is the hour that ends at k, standard time all year, its
sun taken at the half hour, every figure the mean over the hour.
"""
