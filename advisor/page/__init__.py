"""The page: the same answers as the commands, in a browser. Needs the extra `page` (Starlette, uvicorn)."""
