/** The 97.5 % point of the standard normal distribution: what stands either side of an estimate at 95 %. */
export const Z_95 = 1.959963984540054
