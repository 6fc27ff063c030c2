// npm start: set up, build the site, serve it.
import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { inBuildTurn } from './build-turn.mjs'
import { projectRoot, run, setUp, stop } from './set-up.mjs'

await setUp()
// What is served is a copy: the next start may build anew while this one still serves.
const served = mkdtempSync(join(tmpdir(), 'round-the-back-'))
const tidy = () => rmSync(served, { recursive: true, force: true })
process.on('exit', tidy)
// Whatever ends this ends what it has begun, which is waited for.
const ended = new AbortController()
const { signal } = ended
for (const name of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(name, () => ended.abort())

const code = await inBuildTurn(join(projectRoot, 'node_modules', '.round-the-back-builds'), async () => {
  console.log('Building the site …')
  const built = await run('astro', ['build', '--silent'], { signal })
  if (built === 0) cpSync(join(projectRoot, 'dist'), served, { recursive: true })
  return built
})
if (signal.aborted) process.exit()
if (code !== 0) stop('The site could not be built; the lines above say why.')
const ending = await run('node', ['src/tools/serve.mjs', served, process.env.PORT ?? '4321', '--next'], { signal })
process.exitCode = signal.aborted ? 0 : ending
