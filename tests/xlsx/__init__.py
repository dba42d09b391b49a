"""Tests of the room that knows the file format."""
