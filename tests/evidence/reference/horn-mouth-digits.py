"""Independent digits for the pattern of a horn mouth in a baffle.

The aperture integral in the plane of one coverage angle, written with a real apex and complex exponentials over the whole
width (not half of it) and summed by adaptive quadrature with 30 digits; and the Fresnel-integral form of the same
aperture for a narrow horn, from SciPy. Nothing is shared with the code under test.
Run: python3 horn-mouth-digits.py > horn-mouth-digits.json
"""
import json
import platform

import mpmath
import numpy
import scipy
from mpmath import exp, linspace, mp, mpf, pi, quad, sin, sqrt, tan
from scipy.special import fresnel

mp.dps = 30


def pattern(mouth_over_lambda, coverage_deg, angle_deg):
    """|p(angle)/p(0)| in dB for a mouth of width 1."""
    k = 2 * pi * mpf(mouth_over_lambda)
    apex = mpf(1) / 2 / tan(mpf(coverage_deg) * pi / 360)
    pieces = linspace(-mpf(1) / 2, mpf(1) / 2, 5 + 2 * int(float(mouth_over_lambda)))

    def transform(sine):
        def moving(x):
            rho = sqrt(apex**2 + x**2)
            return (apex / rho) ** mpf('1.5') * exp(-1j * k * (rho - apex)) * exp(1j * k * x * sine)

        return quad(moving, pieces)

    ratio = abs(transform(sin(mpf(angle_deg) * pi / 180)) / transform(mpf(0)))
    return float(20 * mpmath.log10(ratio))


def fresnel_pattern(mouth_over_lambda, coverage_deg, angle_deg):
    """The same with the phase to second order and an even amplitude: closed form in Fresnel integrals."""
    k = 2 * numpy.pi * mouth_over_lambda
    apex = 0.5 / numpy.tan(numpy.radians(coverage_deg / 2))
    scale = numpy.sqrt(k / (numpy.pi * apex))

    def transform(sine):
        # exp(-jk(x²/2a − x sine)), square completed
        (s1, c1), (s0, c0) = fresnel(scale * (0.5 - apex * sine)), fresnel(scale * (-0.5 - apex * sine))
        return abs((c1 - c0) - 1j * (s1 - s0))

    return float(20 * numpy.log10(transform(numpy.sin(numpy.radians(angle_deg))) / transform(0)))


cases = [
    ('0.5', 90, 90), ('0.822', 90, 45), ('1.5', 90, 30), ('1.5', 90, 60), ('4', 90, 45), ('4', 90, 90),
    ('1.233', 60, 30), ('2.5', 60, 15), ('6', 60, 30), ('1.85', 40, 20), ('12', 40, 25), ('0.9', 120, 60), ('20', 120, 60),
]
narrow = [(20, 4, 1), (20, 4, 2), (50, 4, 2), (100, 3, 1), (100, 3, 2)]
print(json.dumps({
    'title': 'Independent digits: pattern of a horn mouth in a baffle',
    'source': f'horn-mouth-digits.py beside this file, mpmath {mpmath.__version__}, SciPy {scipy.__version__}, '
              f'NumPy {numpy.__version__}, Python {platform.python_version()}',
    'date': '2026-11-25',
    'notes': 'plane of the coverage angle; level re straight ahead, dB; mouth in wavelengths, angles in degrees',
    'levels': [
        {'mouthOverWavelength': float(m), 'coverageDeg': c, 'angleDeg': a, 'levelDb': round(pattern(m, c, a), 9)}
        for m, c, a in cases
    ],
    'fresnel': [
        {'mouthOverWavelength': m, 'coverageDeg': c, 'angleDeg': a, 'levelDb': round(fresnel_pattern(m, c, a), 6)}
        for m, c, a in narrow
    ],
}, indent=1))
