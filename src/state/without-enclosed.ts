// Apart from state/enclosed-text.ts, which every page has: only the plan asks for it.

/** An address without what is enclosed with it. */
export const withoutEnclosed = (address: string): string =>
  address
    .replace(/#with=[^&]*$/, '')
    .replace(/([#&])with=[^&]*&?/, '$1')
    .replace(/[#&]$/, '')
