"""Packages that still ask numpy for what it is giving up; imported without its warning.

FiPy 4.0 takes ``numpy.core``, which numpy 2 has renamed. pvlib 0.16 makes a pandas
``Timedelta``, for which pandas 2.3, the newest that pyet allows, uses a unit that numpy
2.5 gives up.
"""

import warnings

with warnings.catch_warnings():
    warnings.simplefilter("ignore", DeprecationWarning)
    import fipy
    import pvlib

__all__ = ["fipy", "pvlib"]
