"""What each command does, under its own name; no command imports another."""
