import { globSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { brotliCompress, constants, gzip } from 'node:zlib'
import { hostHeaders, pagesOf, policyOf } from './headers.mjs'

const compressible = /\.(html|css|js|json|svg|xml|webmanifest|bin|ttf)$/
/** Below this a compressed file saves no packet, bytes. */
const smallest = 1024

const asBrotli = promisify(brotliCompress)
const asGzip = promisify(gzip)

/**
 * Writes beside every file that gets smaller its compressed forms, .br and .gz, for servers that send them as they are.
 *
 * @param effort  of Brotli, 0 … 11: the most takes off an eighth more than 5 and fifty times as long
 */
export async function writeCompressed(folder, effort) {
  const options = { params: { [constants.BROTLI_PARAM_QUALITY]: effort } }
  const files = globSync('**/*', { cwd: folder }).filter((file) => compressible.test(file))
  await Promise.all(
    files.map(async (name) => {
      const file = join(folder, name)
      const bytes = readFileSync(file)
      if (bytes.length < smallest) return
      const [br, gz] = await Promise.all([asBrotli(bytes, options), asGzip(bytes, { level: 9 })])
      if (br.length < bytes.length) writeFileSync(`${file}.br`, br)
      if (gz.length < bytes.length) writeFileSync(`${file}.gz`, gz)
    }),
  )
}

/** What hosts want beside the pages: the headers as a file, and every file compressed. Runs after all else has been written. */
export const forHosts = (effort) => ({
  name: 'for-hosts',
  hooks: {
    'astro:build:done': async ({ dir, logger }) => {
      const folder = fileURLToPath(dir)
      const pages = pagesOf(folder).filter((path) => !path.startsWith('/harness/'))
      writeFileSync(join(folder, '_headers'), hostHeaders(pages, policyOf(folder)))
      await writeCompressed(folder, effort)
      logger.info('headers and compressed files written')
    },
  },
})
