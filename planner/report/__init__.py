"""Answers in words, tables and data; nothing here decides anything."""
