// npm start: set up, build the site, serve it.
import { freePort, run, setUp, stop } from './set-up.mjs'

await setUp()
console.log('Building the site …')
if ((await run('astro', ['build', '--silent'])) !== 0) stop('The site could not be built; the lines above say why.')
const port = await freePort(Number(process.env.PORT ?? 4321))
console.log(`Round the Back is at http://localhost:${port}/  (Ctrl+C stops it)`)
process.exitCode = await run('astro', ['preview', '--silent', '--port', String(port)])
