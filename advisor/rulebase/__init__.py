"""What the advisor knows, read from `rules/` and checked: vocabulary, sources, tables, packs, strata."""
