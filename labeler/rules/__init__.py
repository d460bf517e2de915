"""The rules of each market: what a label must say, how its figures are rounded, and where that stands in the law.

Every number of every regulation is a dated, cited entry of a data file under ``data/<market>/``; the modules here
are small engines that run those files. Nothing about a market is written in code.
"""
