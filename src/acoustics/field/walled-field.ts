import { type Complex, scale } from '../complex.ts'
import type { Point } from '../point.ts'
import { cabinetAround } from './rig.ts'
import type { RigField } from './rig-field.ts'
import {
  type ImageFactor,
  imageFactors,
  requireInFrontOfWalls,
  type Wall,
  type WallImage,
  wallImages,
} from './wall-images.ts'

/** A rig in front of walls: its field, and the ways by which its sound arrives. */
export type WalledField = RigField & {
  images: WallImage[]
  /** What of the transfer function arrives by one of the images, by its place among them. Errors as transferAt, but for a listener behind a wall. */
  arrivalAt(image: number, listener: Point, frequencyHz: number): Complex
}

/**
 * The field of a rig in front of walls: what it sends to the place and to the place's mirror images (see pressureFrom).
 * The rig is voiced as it was in free field: a maker or a crew has set it flat before it was put there.
 *
 * Ground takes angle and way from the middle of each cabinet's front.
 *
 * Left out: as rigField and pressureFrom; above all the cabinets do not shade the sound that comes back from a wall.
 *
 * @param field  from rigField
 * @param walls  0 … 12 walls; every corner of every cabinet must be in front of each
 * @returns      transferAt throws RangeError as rigField does, and for a listener behind a wall
 * @throws RangeError for walls out of range or a cabinet that reaches through one
 */
export function walledField(field: RigField, walls: Wall[]): WalledField {
  const images = wallImages(walls)
  for (const cabinet of field.rig.cabinets) {
    for (const corner of cabinetCorners(cabinet)) {
      requireInFrontOfWalls(`a corner of the cabinet '${cabinet.name}'`, corner, walls)
    }
  }
  const isInFront = (point: Point): boolean =>
    walls.every(
      ({ point: on, normal }) =>
        (point.xM - on.xM) * normal.xM + (point.yM - on.yM) * normal.yM + (point.zM - on.zM) * normal.zM >= 0,
    )
  let known: { frequencyHz: number; factors: ImageFactor[] } | undefined
  const arrivalAt = (index: number, listener: Point, frequencyHz: number): Complex => {
    if (known?.frequencyHz !== frequencyHz) {
      known = { frequencyHz, factors: imageFactors(images, walls, Math.max(1, frequencyHz)) }
    }
    const { factor, between } = known.factors[index] as ImageFactor
    if (factor === 0) return { re: 0, im: 0 }
    const mirrored = (images[index] as WallImage).mirrored(listener)
    if (between) return field.transferAt(mirrored, frequencyHz, (frontCentre) => between(frontCentre, mirrored))
    return scale(field.transferAt(mirrored, frequencyHz), factor)
  }
  return {
    rig: field.rig,
    images,
    arrivalAt,
    isOpen: (point) => isInFront(point) && !cabinetAround(field.rig, point),
    transferAt(listener, frequencyHz): Complex {
      requireInFrontOfWalls('listener', listener, walls)
      let re = 0
      let im = 0
      for (const index of images.keys()) {
        const arrival = arrivalAt(index, listener, frequencyHz)
        re += arrival.re
        im += arrival.im
      }
      return { re, im }
    },
  }
}

/** The eight corners of a cabinet. */
function cabinetCorners(cabinet: RigField['rig']['cabinets'][number]): Point[] {
  const { frontCentre, widthM, heightM, depthM, yawRad = 0 } = cabinet
  const [cos, sin] = [Math.cos(yawRad), Math.sin(yawRad)]
  return [-1, 1].flatMap((side) =>
    [-1, 1].flatMap((up) =>
      [0, -depthM].map((z) => {
        const x = (side * widthM) / 2
        return {
          xM: frontCentre.xM + x * cos + z * sin,
          yM: frontCentre.yM + (up * heightM) / 2,
          zM: frontCentre.zM - x * sin + z * cos,
        }
      }),
    ),
  )
}
