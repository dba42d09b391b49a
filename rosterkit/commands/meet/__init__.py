"""A meet: who comes, its plan in words of engines, and the cards for the trip there and back."""
