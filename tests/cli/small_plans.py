"""Plans of one step each, of which the tests know by hand what the tiny rules say."""

# Under the tiny rules: one danger and one warning (a socket), one notice (shims), nothing.
SOCKET = "parts: {sockets: {kind: outlet, room: k}}\nsteps: [{id: swap, do: replace, to: sockets}]\n"
SHIMS = (
    "parts: {run: {kind: base cabinets, room: k, drops: {0 ft: 1 in, 3 ft: 0 in}}}\n"
    "steps: [{id: set, do: install, to: run}]\n"
)
QUIET = "parts: {top: {kind: worktop, room: k}}\nsteps: [{id: carry, do: move, to: top}]\n"
HEAD = "title: Plan {n}\nrooms: {{k: {{kind: kitchen}}}}\n"
