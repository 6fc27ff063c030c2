import { type OwnBox, type OwnBoxBand, ownBoxBand, ownBoxBands } from '../../engine/questions/own-box/own-box.ts'

const kept = new Map<string, OwnBoxBand[]>()

const hundredths = (value: number) => Math.round(value * 100) / 100

/** All bands of a box, solved once a build however many pages show it; to hundredths of a decibel, as a page carries them. */
export function solvedAtBuild(box: OwnBox): OwnBoxBand[] {
  const key = JSON.stringify(box)
  const known = kept.get(key)
  if (known) return known
  const bands = ownBoxBands.map(({ nominalHz }) => {
    const band = ownBoxBand({ box, nominalHz, solved: true })
    return {
      ...band,
      frontGainDb: hundredths(band.frontGainDb),
      sideDb: hundredths(band.sideDb),
      rearDb: hundredths(band.rearDb),
      roundDb: band.roundDb.map(hundredths),
      directivityIndexDb: hundredths(band.directivityIndexDb),
    }
  })
  kept.set(key, bands)
  return bands
}
