// What is enclosed with a link stands behind # and so is never sent to whoever serves the site: #figure-walk&with=…

const enclosed = /(?:^#|&)with=([^&]*)/

/** The text of what is enclosed with an address, as state/enclosure.ts reads it; '' for nothing. */
export const enclosedIn = (hash: string): string => enclosed.exec(hash)?.[1] ?? ''

/** Whether something of one's own came with the link: how links name what is enclosed with them, by its place. */
export const isSent = (key: string): boolean => /^sent-\d$/.test(key)

let came = ''
/** What is enclosed with this page's address, or was before the reader went on to another part of the page. */
export const enclosedHere = (): string => {
  if (typeof location === 'undefined') return ''
  came = enclosedIn(location.hash) || came
  return came
}
