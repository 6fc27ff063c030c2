import solved from '../../../../content/gear/solved/box-pattern.json' with { type: 'json' }
import type { BoxPattern } from './box-pattern.ts'

/**
 * The pattern of the demo top's proportions, solved beforehand by boxPattern: src/tools/solve-gear.mjs makes the file, and a
 * test compares it with the demo gear and with fresh lines. Solving it takes ten seconds, which no build should.
 */
export const demoBoxPattern: BoxPattern = solved
