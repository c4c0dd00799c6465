"""Files found and read: TOML to models, every fault of a file at once."""
