#pragma once

#include "ohmdrag/bearing/geometry.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// Shape of an elliptical contact and the complete elliptic integrals that belong to it.
struct Ellipticity {
  double ratio;       ///< k = a/b >= 1, transverse over rolling semi-axis
  double elliptic_e;  ///< second kind, parameter 1 - 1/k^2
  double elliptic_f;  ///< first kind, same parameter
};

/// Elliptical contact of a ball and a groove under load.
struct ContactEllipse {
  Ellipticity shape;
  Length semi_major;      ///< a, across the direction of rolling
  Length semi_minor;      ///< b, along it
  Area area;              ///< pi a b
  Pressure max_pressure;  ///< 3 Q/(2 pi a b)
  Length approach;        ///< delta, elastic approach of the two bodies
};

/// Line contact of two cylinders under load.
struct ContactStrip {
  Length half_width;      ///< b
  Pressure max_pressure;  ///< 2 Q/(pi b l)
};

/// Ellipticity of a contact from the ratio of its equivalent radii, exact.
///
///     R_y/R_x = (k^2 E - F)/(F - E),  E, F of the parameter 1 - 1/k^2
///
/// Limits    R_y/R_x = 1: k = 1, E = F = pi/2.
/// Accuracy  1e-12 in k.
/// Source    H. Hertz (1882); form as in B. J. Hamrock, Lubrication of Machine Elements,
///           NASA RP-1126 (1984), solved here for R_y/R_x.
///
/// \param radius_ratio  R_y/R_x, >= 1
/// \throws std::invalid_argument if the ratio is below 1 or not finite.
Ellipticity ellipticity(double radius_ratio);

/// Contact ellipse of a loaded ball in its groove.
///
///     a = (6 k^2 E Q R/(pi E'))^(1/3),  b = a/k,  p = 3 Q/(2 pi a b)
///     delta = F [(9/(2 E R)) (Q/(pi k E'))^2]^(1/3),  1/R = 1/R_x + 1/R_y
///
/// Validity  elastic, dry, contact small against the radii.
/// Limits    Q = 0: a point, no pressure, no approach.
/// Source    B. J. Hamrock, Lubrication of Machine Elements, NASA RP-1126 (1984).
///
/// \param reduced_modulus  E' of reduced_modulus()  [Pa]
/// \param load             Q >= 0                   [N]
ContactEllipse contact_ellipse(const ContactRadii& radii, Pressure reduced_modulus, Force load);
/// The same with the shape already known; a bearing has the same shape at every ball.
ContactEllipse contact_ellipse(const ContactRadii& radii, const Ellipticity& shape,
                               Pressure reduced_modulus, Force load);

/// Line contact of a roller.
///
///     b = R_x sqrt(8 W/pi),  p = E' sqrt(W/(2 pi)),  W = Q/(E' R_x l)
///
/// Source  B. J. Hamrock, Lubrication of Machine Elements, NASA RP-1126 (1984).
ContactStrip contact_strip(Length rolling_radius, Length line, Pressure reduced_modulus,
                           Force load);

}  // namespace ohmdrag::bearing
