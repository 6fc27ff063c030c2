/** Low tones that crews name, Hz. */
export const tonesHz = [40, 50, 63, 80, 100, 125, 160, 200, 250] as const

export const radPerDeg = Math.PI / 180
