"""Speed side by side with what a user would pick instead; run by hand, nothing here is a test."""
