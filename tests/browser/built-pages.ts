import { globSync } from 'node:fs'
import { join } from 'node:path'
import { otherLanguages } from '../../src/tools/languages.mjs'

const site = join(import.meta.dirname, '../results/site')

/** The address of every page that the build under test has, in every language, except the page for no address and the tests' own. */
export const builtPages: readonly string[] = globSync('**/index.html', { cwd: site })
  .map((file) => `/${file.replaceAll('\\', '/').replace(/index\.html$/, '')}`)
  .filter((path) => !path.startsWith('/harness/'))
  .sort()

/** Those in another language than English. */
export const translatedPages: readonly string[] = builtPages.filter((path) =>
  otherLanguages().some((code) => path.startsWith(`/${code}/`)),
)

/** The name of every answer. */
export const answers: readonly string[] = builtPages.flatMap((path) => /^\/answers\/(.+)\/$/.exec(path)?.[1] ?? [])

// A build that is missing must not pass for a site without faults.
if (builtPages.length === 0) throw new Error(`There is no built site in ${site}: build it with SITE_FOR_TESTS=1`)
