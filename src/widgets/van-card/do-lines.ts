import type { LengthUnit } from '../../state/preferences.ts'

/** A piece of a step: its words, or a number by the component that writes it in the lesson (see src/tools/do-lines.mjs). */
export type DoPart = string | { component: string; given: Readonly<Record<string, string | number | boolean>> }

/** A step in both units of length. */
export type DoLine = Readonly<Record<LengthUnit, string>>

/** A lesson on the card. */
export type CardLesson = { slug: string; number: number; title: string; isExtra: boolean; lines: DoLine[] }

/**
 * The words of a step.
 *
 * @param textOf  the text of one of its numbers
 */
export async function doLine(
  parts: readonly DoPart[],
  textOf: (part: Exclude<DoPart, string>) => Promise<(units: LengthUnit) => string>,
): Promise<DoLine> {
  const texts = await Promise.all(
    parts.map(async (part) => (typeof part === 'string' ? () => part : await textOf(part))),
  )
  const inUnits = (units: LengthUnit) =>
    texts
      .map((text) => text(units))
      .join('')
      .replaceAll(/\s+/g, ' ')
      .trim()
  return { m: inUnits('m'), ft: inUnits('ft') }
}
