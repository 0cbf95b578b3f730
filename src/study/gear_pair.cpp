#include "ohmdrag/study/gear_pair.hpp"

#include "study/angle.hpp"

namespace ohmdrag::study {

component::GearPair gear_pair_of(const GearElement& gear, const Draw& draw) {
  component::GearPair pair =
      component::unshifted_pair(gear.pinion_teeth, gear.wheel_teeth, draw(gear.normal_module),
                                in_radians(draw(gear.pressure_angle_deg)),
                                in_radians(draw(gear.helix_angle_deg)), draw(gear.face_width));
  if (gear.centre_distance) {
    pair.pinion_tip_diameter = draw(gear.pinion_tip_diameter.value());
    pair.wheel_tip_diameter = draw(gear.wheel_tip_diameter.value());
    pair.centre_distance = draw(*gear.centre_distance);
  }
  return pair;
}

}  // namespace ohmdrag::study
