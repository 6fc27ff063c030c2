/** A nominal frequency as an axis writes it: '31.5', '125', '1 k'. */
export const frequencyTick = (frequencyHz: number): string =>
  frequencyHz >= 1000 ? `${Number((frequencyHz / 1000).toFixed(2))} k` : String(frequencyHz)

/** A nominal frequency in a sentence or label: '80 Hz', '2 kHz'. */
export const frequencyText = (frequencyHz: number): string =>
  frequencyHz >= 1000 ? `${Number((frequencyHz / 1000).toFixed(2))} kHz` : `${frequencyHz} Hz`

/** The octave mid-bands that every frequency axis of the site shows. */
export const frequencyTicks = [31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16000]
