"""Published tables with their sources, and typed look-ups into them.

Every row names its source, a key of ``sources.csv``, and its standing: ``found``, ``memory`` or
``common practice``. Import the part you need; this package imports none of them by itself.

functions
    What a wire may carry: `function`, `function_keys`, `parts_of`.
connectors
    Sockets and plugs pin by pin: `connector`, `connector_keys`, `Connector`, `Pin`.
conventions
    Colours of cables, looms and leads: `convention`, `convention_keys`, `clashes`.
traps
    What goes wrong on the way: `traps`, `colour_traps`.
adapters
    Adapters and signal converters: `adapters`, `adapter`, `signal_converters`.
mounting
    Screws of sockets, leads of breakaway kits: `mounting`, `breakaway_wiring`.
rules
    Lamp and wiring rules by jurisdiction: `rules_for`, `rule`, `jurisdiction`.
trailer_facts
    What the rules need to know: `TrailerFacts`.
cautions
    What can hurt, by stage of the work: `cautions`.
sources
    Where it is all from: `source`, `sources`.
catalogue
    Every table of the package as plain text: `table_names`, `table`.
"""
