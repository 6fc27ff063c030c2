/** The language of the site's words, for the browser's own formats: lists, days, plurals. A build in another language has its code. */
export const language: string = 'en-GB'
