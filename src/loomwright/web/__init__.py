"""The workbench: server-rendered pages and the JSON interface, over the same uses as everywhere.

app
    `make_app(store, settings)` puts it together.
serving
    `serve(...)`: opens the store, finds the addresses, runs the server.
screens
    One module for each screen, collected by the app; its docstring says how to add one.
api
    The JSON interface under ``/api``.
opened
    What a screen about one rig asks for: the rig, its text, its solved work and findings.
visitor
    Who asks: name, device, units.
guards, door, csrf
    Which requests are answered at all.
pages, templates, static
    How pages are made, and how they look.
"""
