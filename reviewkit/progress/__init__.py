"""Classes over time: figures of each, trends that chance does not explain, and what stays missing.

Works on review documents alone; nothing is reviewed again here.
"""
