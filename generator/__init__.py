"""Sondebook: vehicle profiles in, guides to exhaust oxygen and air-fuel sensors out.

Data flows one way, and nothing imports upward::

    vehicle_profiles/*.yml
      profile/   text -> checked Profile, or findings with file:line:column
      trade/     the computations: pure functions of numbers, no I/O
      guide/     what each page says, as plain data
      site/      how it is rendered and written; the MkDocs plugin
      cli        the command line
"""

__version__ = "0.1.0"
