"""The one part of the page that asks the packages: a recipe's text in, plain data out.

Every answer is what the command of the same job writes, from the same call. What is asked for while somebody types
(`reading`) takes milliseconds, as the packages remember what they found for each line; the rest is asked for in another
process (`labeler.page.work`).
"""
