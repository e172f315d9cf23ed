"""Wind near a surface, from the wind that is measured or forecast higher up."""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range


def wind_at_half_metre_m_s(
    wind_m_s: Numbers,
    measured_height_m: float,
    roughness_mm: float,
    surface_height_m: Numbers = 0.0,
) -> Floats:
    r"""Wind half a metre above the surface, where Menzel's formula wants it.

    Parameters
    ----------
    wind_m_s : float or array
        Wind at the height of measurement. [m/s]
    measured_height_m : float
        That height, from 0.5 to 100. [m]
    roughness_mm : float
        Aerodynamic roughness length of the ground, from 0.1 to 100. [mm]
    surface_height_m : float or array
        Height of the surface above the ground, from 0 to 300. [m]

    Returns
    -------
    array
        Wind 0.5 m above the surface. [m/s]

    Raises
    ------
    OutOfRangeError
        If wind, height or roughness lies outside its range.

    Notes
    -----
    Log law of a neutral boundary layer (textbook; displacement height of zero):
    :math:`u = u_z \ln((h + 0.5)/z_0) / \ln(z/z_0)`. It fails where obstacles are nearly
    as high as half a metre, hence the limit on roughness (assumption). Menzel's inputs
    are taken 0.5 m above the surface (read in trade guidance on the nomograph). Over a
    deck high up the law leaves out what the building does to the wind, which is still
    stronger at its edges.
    """
    source = "the log wind profile down to 0.5 m"
    wind = in_range("wind_m_s", wind_m_s, 0, 100, "m/s", source)
    height_m = in_range("measured_height_m", measured_height_m, 0.5, 100, "m", source)
    roughness_m = in_range("roughness_mm", roughness_mm, 0.1, 100, "mm", source) / 1000
    deck_m = in_range("surface_height_m", surface_height_m, 0, 300, "m", source)
    over_m = deck_m + 0.5
    return np.asarray(
        wind * np.log(over_m / roughness_m) / np.log(height_m / roughness_m)
    )
