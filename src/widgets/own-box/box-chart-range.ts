/** The level range of the charts of one box, dB: the same for all of them, so that they can be compared. */
export const boxRangeDb: [number, number] = [-36, 12]

/** The range of the directivity index, dB; a box that cancels its own front is below 0. */
export const indexRangeDb: [number, number] = [-6, 22]

/** Their frequency axis: the 19 bands with a little air. */
export const bandDomainHz: [number, number] = [28, 2250]

export const withinRange = (levelDb: number): number => Math.max(boxRangeDb[0], Math.min(boxRangeDb[1], levelDb))
