import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vitest/config'

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  plugins: [svelte()],
  test: {
    include: ['tests/unit/**/*.test.ts', 'tests/evidence/**/*.test.ts'],
    environment: 'node',
    testTimeout: 60_000,
  },
})
