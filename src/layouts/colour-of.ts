import { readFileSync } from 'node:fs'

// Builds and tests run where package.json stands.
const tokens = readFileSync('src/styles/tokens.css', 'utf8')

/**
 * A colour of the light and of the dark page, from the one place where colours stand; for what is made at build.
 *
 * @throws  if there is no such colour
 */
export function colourOf(name: string): { light: string; dark: string } {
  const [light, dark] = [...tokens.matchAll(new RegExp(`--${name}:\\s*(#[\\da-f]{6})`, 'g'))].map(([, value]) => value)
  if (!light || !dark) throw new Error(`styles/tokens.css has no colour --${name} for light and for dark`)
  return { light, dark }
}
