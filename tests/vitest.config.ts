import { fileURLToPath } from 'node:url'
import { compileModule } from 'svelte/compiler'
import { defineConfig } from 'vitest/config'
import { writeMessages } from '../src/tools/messages.mjs'

writeMessages()

// The states of figures live here as in the browser: what follows a change is told of it. On a server it would not be.
const svelteState = {
  name: 'svelte-state',
  enforce: 'post' as const,
  transform: (code: string, id: string) =>
    id.endsWith('.svelte.ts') ? compileModule(code, { filename: id, generate: 'client' }).js : null,
}
const svelteInBrowser = new URL('src/index-client.js', import.meta.resolve('svelte/package.json'))

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  plugins: [svelteState],
  resolve: { alias: [{ find: /^svelte$/, replacement: fileURLToPath(svelteInBrowser) }] },
  test: {
    include: ['tests/unit/**/*.test.ts', 'tests/evidence/**/*.test.ts'],
    environment: 'node',
    // A build of the site runs beside it for part of the time; else nothing does.
    maxWorkers: '100%',
    // Seconds on a quiet machine; beside other work some take minutes.
    testTimeout: 240_000,
    hookTimeout: 240_000,
  },
})
