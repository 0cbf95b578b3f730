#include "contact/lip_course.hpp"

#include "contact/force_loss_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::contact {

LipCourse lip_course(const LipForce& lip, Time age, Temperature temperature, int steps,
                     numerics::LaneWidth width) {
  const Relaxation& law = lip.relaxation;
  const RelaxationConstants constants{
      law.per_decade, law.log_time.value(),
      ageing_acceleration(law.activation_temperature, law.at, temperature) /
          law.chemical_time.value(),
      law.stretch};
  const double softened = modulus_ratio(lip.modulus, temperature).value;
  const double final_set = lip.set.final_set, set_time_s = lip.set.set_time.value();
  const double step_s = age.value() / steps;
  const auto count = static_cast<std::size_t>(steps);
  LipCourse course{std::vector<double>(count), std::vector<double>(count)};
  numerics::run_at_width(width, [&, spring = course.spring.data(), rubber = course.rubber.data()] {
    using Math = numerics::LaneMath;
#pragma GCC ivdep
    for (int i = 0; i < steps; ++i) {
      const double age_s = step_s * (i + 0.5);
      const double physical = physical_share<Math>(constants, age_s);
      const double left = physical > 0.0 ? physical : 0.0;
      rubber[i] = left * chemical_share<Math>(constants, age_s) * softened;
      spring[i] = spring_share<Math>(final_set, set_time_s, age_s);
    }
  });
  return course;
}

}  // namespace ohmdrag::contact
