import type { Options } from 'minisearch'

/** A part of a page under a heading of its own. */
export type Passage = { page: string; heading: string; url: string; text: string }

/** How passages are looked through; the same when the index is made and when it is read. */
export const searchOptions: Options<Passage & { id: number }> = {
  fields: ['page', 'heading', 'text'],
  storeFields: ['page', 'heading', 'url', 'text'],
  // Accents and capitals do not matter.
  processTerm: (term) => term.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase(),
  searchOptions: {
    boost: { heading: 3, page: 2 },
    prefix: (term) => term.length > 2,
    fuzzy: (term) => (term.length > 4 ? 0.2 : false),
    combineWith: 'AND',
  },
}
