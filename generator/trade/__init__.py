"""Trade knowledge as computation: pure functions of numbers and small frozen values.

Nothing here reads a file, knows a page, or imports another layer of the project. What a function
takes from a standard is named in its docstring; what is only habit says "common practice, no
source". Words for people are chosen a layer above.
"""
