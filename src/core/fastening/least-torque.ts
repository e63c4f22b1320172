/**
 * The least that anybody sets, reads or asks for: a thousandth of a newton-metre, of another unit of torque, or of a degree. Less is a
 * slip of typing, and would make nonsense of every share and ratio taken of it. Common practice, no source.
 */
export const LEAST_TORQUE = 0.001
