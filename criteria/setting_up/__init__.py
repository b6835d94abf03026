"""Setting up and packing as a sequence of steps: how long it takes, and with how many people."""
