"""The local page: the whole job in the browser, on the cook's own machine.

A small server on the loopback address shows a folder of recipe files. It holds no figures of its own: `engine` is the
one module that asks the packages, with the same calls as the commands, and a recipe's file stays the truth.
"""
