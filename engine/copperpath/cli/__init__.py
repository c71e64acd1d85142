"""The `copperpath` command. See the modules."""
