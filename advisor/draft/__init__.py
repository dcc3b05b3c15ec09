"""Plain sentences and plans, both ways: `hear` makes a plan of somebody's words, `say` puts a plan into words."""
