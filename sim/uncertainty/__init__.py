"""What is not known of a scenario, drawn from its bands: how sure each answer is, and what that hangs on."""
