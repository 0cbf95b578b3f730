// Each block is one line that the units must refuse. Without a macro the file must compile: only
// then does a failure of a block speak of its own line.
#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/quantity/uncertain.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;

void take_length(Length);
void take_torque(Torque);

#if defined(TORQUE_WITHOUT_RADIAN)
Torque wrong = 2.0_N * 20.0_mm;
#elif defined(SUM_OF_TWO_TEMPERATURES)
auto wrong = 20.0_degC + 60.0_degC;
#elif defined(DIFFERENCE_AS_TEMPERATURE)
Temperature wrong = 60.0_K;
#elif defined(EXPLICIT_DIFFERENCE_AS_TEMPERATURE)
Temperature wrong(60.0_K);
#elif defined(TEMPERATURE_AS_DIFFERENCE)
TemperatureDifference wrong = 60.0_degC;
#elif defined(BARE_NUMBER_AS_LENGTH)
Length wrong = 0.04;
#elif defined(BARE_NUMBER_AS_ARGUMENT)
void wrong() { take_length(0.04); }
#elif defined(LENGTH_AS_POWER)
Power wrong(40.0_mm);
#elif defined(FREQUENCY_AS_ANGULAR_VELOCITY)
AngularVelocity wrong = 50.0_Hz;
#elif defined(LINE_FORCE_AS_FORCE)
Force wrong = 0.015_N_mm;
#elif defined(LINE_FORCE_AS_TORQUE)
void wrong() { take_torque(15.0_N_m); }
#elif defined(ENERGY_AS_TORQUE)
Torque wrong = 2.0_J;
#elif defined(RIM_SPEED_WITHOUT_RADIAN)
Speed wrong = 3000.0_rpm * 20.0_mm;
#elif defined(SUM_OF_FORCE_AND_LENGTH)
auto wrong = 2.0_N + 20.0_mm;
#elif defined(QUANTITY_AS_BARE_NUMBER)
double wrong = 40.0_mm;
#elif defined(DYNAMIC_AS_KINEMATIC_VISCOSITY)
KinematicViscosity wrong = 20.0_mPa_s;
#elif defined(UNCERTAIN_OF_ANOTHER_QUANTITY)
Uncertain<Length> wrong(2.0_N);
#else
Torque torque = torque_of(2.0_N, 20.0_mm);
Temperature temperature = 20.0_degC + 60.0_K;
TemperatureDifference difference = 60.0_degC - 20.0_degC;
Length length = 40.0_mm;
Power power = torque * 3000.0_rpm;
AngularVelocity angular_velocity = 3000.0_rpm;
Force force = 0.015_N_mm * length;
Speed speed = rim_speed(3000.0_rpm, 20.0_mm);
double ratio = 40.0_mm / length;
KinematicViscosity viscosity = 20.0_mPa_s / 850.0_kg_m3;
Uncertain<Length> uncertain(20.0_mm);
void right() {
  take_length(length);
  take_torque(torque);
}
#endif
