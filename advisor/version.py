"""The version of the program: the only place where it stands; the package is built with it."""

VERSION = "0.1.0"
