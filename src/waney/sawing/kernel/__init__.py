"""The compiled arithmetic of the optimisers: plain numbers and arrays in, plain numbers and arrays out.

These modules import nothing of the program but `figures.compiled` and each other (a test holds them to it), so that one
hash of this folder names everything that a piece of machine code in the cache was made from.
"""
