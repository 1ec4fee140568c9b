package material

// CopperCoefficient is by what part of its resistance at 20 °C annealed copper
// rises per kelvin [1/K]: IEC 60028 gives 0.00393 (from memory); that the line meets
// zero at −234.5 °C, as tests of machines take it (IEEE 112; IEC 60034-1 rounds to
// −235; both from memory), makes it 1/254.5 = 0.003929. It is not 1/234.5, which
// belongs to the resistance at 0 °C.
const CopperCoefficient = 1 / 254.5
