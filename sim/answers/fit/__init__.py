"""Whether the gear fits the diver: where the rig sits, what hands and eyes reach, the carry ashore."""
