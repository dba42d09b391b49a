"""Changes to the bytes of a member's parts, and nothing around them."""
