"""Rules compiled to the `experta` package, the run, and the record of why each conclusion holds."""
