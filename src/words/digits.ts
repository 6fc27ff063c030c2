/**
 * A number as it is printed, of one as a program writes it: '-3.20' → '−3.20'. English alone stands here, because a page is to load
 * nothing for it; a build in another language has `digitsIn` in its place.
 */
export const digits = (text: string): string => text.replace('-', '−')
