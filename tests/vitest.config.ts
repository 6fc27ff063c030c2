import { defineConfig } from 'vitest/config'
import { writeMessages } from '../src/tools/messages.mjs'

writeMessages()

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/unit/**/*.test.ts', 'tests/evidence/**/*.test.ts'],
    environment: 'node',
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
})
