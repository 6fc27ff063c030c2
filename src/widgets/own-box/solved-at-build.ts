import { ownBoxBand } from '../../engine/questions/own-box/own-box.ts'
import { type OwnBox, type OwnBoxBand, ownBoxBands } from '../../engine/questions/own-box/own-box-terms.ts'
import { keptAtBuild } from '../at-build/kept-at-build.ts'

const hundredths = (value: number) => Math.round(value * 100) / 100

/** All bands of a box, solved once a build however many pages show it; to hundredths of a decibel, as a page carries them. */
export const solvedAtBuild = (box: OwnBox): OwnBoxBand[] =>
  keptAtBuild('own-box', box, () =>
    ownBoxBands.map(({ nominalHz }) => {
      const band = ownBoxBand({ box, nominalHz, solved: true })
      return {
        ...band,
        frontGainDb: hundredths(band.frontGainDb),
        sideDb: hundredths(band.sideDb),
        rearDb: hundredths(band.rearDb),
        roundDb: band.roundDb.map(hundredths),
        directivityIndexDb: hundredths(band.directivityIndexDb),
      }
    }),
  )
