// npm run dev: set up, then serve with live reload.
import { freePort, run, setUp } from './set-up.mjs'

await setUp()
const port = await freePort(Number(process.env.PORT ?? 4321))
console.log(`Round the Back is at http://localhost:${port}/  and reloads as you save  (Ctrl+C stops it)`)
process.exitCode = await run('astro', ['dev', '--silent', '--port', String(port)])
