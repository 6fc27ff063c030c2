// What is enclosed with a link stands behind # and so is never sent to whoever serves the site: #figure-walk&with=…

const enclosed = /(?:^#|&)with=([^&]*)/

/** The text of what is enclosed with an address, as state/enclosure.ts reads it; '' for nothing. */
export const enclosedIn = (hash: string): string => enclosed.exec(hash)?.[1] ?? ''

let came = ''
/** What is enclosed with this page's address, or was before the reader went on to another part of the page. */
export const enclosedHere = (): string => {
  if (typeof location === 'undefined') return ''
  came = enclosedIn(location.hash) || came
  return came
}

/** The id to which an address leads, whatever is enclosed with it; '' for none. */
export const anchorIn = (hash: string): string => (hash.startsWith('#with=') ? '' : (hash.slice(1).split('&')[0] ?? ''))

/** An address with something enclosed; as it is for ''. */
export const withEnclosed = (address: string, text: string): string =>
  text === '' ? address : `${address}${address.includes('#') ? '&' : '#'}with=${text}`
