"""Detectors, one a file: talk -> what its words stand for."""
