import { siteLanguage, siteLanguages } from 'virtual:site-languages'

// Which pages there are in which language. Addresses come in as they are in English.

type Language = (typeof siteLanguages)[number]

const isIn = ({ addresses }: Language, address: string): boolean => addresses?.includes(address) ?? true

/** The address of a page in the language of the build: '/safety/' → '/es/safety/'. */
export const addressHere = (address: string): string => addressIn(siteLanguage, address)

const addressIn = (code: string, address: string): string => (code === 'en' ? address : `/${code}${address}`)

/** Whether the language of the build has a page. */
export const isWritten = (address: string): boolean =>
  siteLanguages.some((language) => language.code === siteLanguage && isIn(language, address))

/** The page for an address that leads nowhere stands at whatever address that is. */
const isNowhere = (address: string): boolean => address === '/404/'

/** The languages that a page is in, the one of the build among them, each with its name in itself and the page's address there. */
export const editionsOf = (address: string): { code: string; name: string; address: string; isHere: boolean }[] =>
  siteLanguages
    .filter((language) => isIn(language, address) && !isNowhere(address))
    .map(({ code, name }) => ({ code, name, address: addressIn(code, address), isHere: code === siteLanguage }))

/** A language as other sites' previews name it: 'en' → 'en_GB', 'es' → 'es_ES'. */
export const localeOf = (code: string): string =>
  `${code}_${code === 'en' ? 'GB' : new Intl.Locale(code).maximize().region}`

export { siteLanguage }
