import { coarsePoints, finePoints, type PanelMesh } from './panel-mesh.ts'

/** Nearer than this many panel diagonals, a panel's static part is integrated exactly. */
const nearPanelSizes = 2

/**
 * Double-layer potential at one point x of every panel of a mesh, each with unit density:
 *
 *   D_j(x) = ∫_j ∂G/∂n_y dS_y,   G = e^{−jkR}/(4πR),   ∂G/∂n_y = −(1 + jkR) e^{−jkR} h/(4πR³),  h = (y − x)·n
 *
 * h is the same all over a flat panel, so a panel in whose plane x lies gives exactly 0 (the principal value).
 * A near panel is split:  the static part −h/4πR³ is minus the solid angle over 4π, known in closed form; the rest,
 * h[1 − (1 + jkR)e^{−jkR}]/4πR³ = −h k²/8πR + …, is bounded and left to 4 × 4 Gauss points. A far panel takes 2 × 2.
 *
 * @param mesh         the panels
 * @param wavenumber   k, rad/m, 0 or more
 * @param x, y, z      the point, m
 * @param outRe        receives Re D_j, `mesh.count` numbers
 * @param outIm        receives Im D_j
 * Source: Kirchhoff–Helmholtz kernel, Morse & Ingard, Theoretical Acoustics, section 7.1; solid angle of a triangle
 *         tan(Ω/2) = a·(b × c)/(abc + (a·b)c + (b·c)a + (c·a)b), A. van Oosterom & J. Strackee, IEEE Trans. Biomed.
 *         Eng. 30 (1983) 125–126.
 * Accuracy: of one panel's share, 1e-4 at two diagonals and beyond (panels up to λ/6 wide), 1e-3 a seventh of the panel's
 *         width above it, where the remainder has a kink.
 */
export function doubleLayerRow(
  mesh: PanelMesh,
  wavenumber: number,
  x: number,
  y: number,
  z: number,
  outRe: Float64Array,
  outIm: Float64Array,
): void {
  const { count, centres, normals, sizesM, coarseNodes, coarseWeightsM2, fineNodes, fineWeightsM2 } = mesh
  const k = wavenumber
  for (let panel = 0; panel < count; panel++) {
    const cx = (centres[3 * panel] as number) - x
    const cy = (centres[3 * panel + 1] as number) - y
    const cz = (centres[3 * panel + 2] as number) - z
    const height =
      cx * (normals[3 * panel] as number) +
      cy * (normals[3 * panel + 1] as number) +
      cz * (normals[3 * panel + 2] as number)
    const sizeM = sizesM[panel] as number
    if (Math.abs(height) < 1e-9 * sizeM) {
      outRe[panel] = 0
      outIm[panel] = 0
      continue
    }
    let re = 0
    let im = 0
    if (cx * cx + cy * cy + cz * cz > (nearPanelSizes * sizeM) ** 2) {
      const end = coarsePoints * (panel + 1)
      for (let q = coarsePoints * panel; q < end; q++) {
        const dx = (coarseNodes[3 * q] as number) - x
        const dy = (coarseNodes[3 * q + 1] as number) - y
        const dz = (coarseNodes[3 * q + 2] as number) - z
        const squared = dx * dx + dy * dy + dz * dz
        const distance = Math.sqrt(squared)
        const kR = k * distance
        const c = Math.cos(kR)
        const s = Math.sin(kR)
        const factor = (coarseWeightsM2[q] as number) / (squared * distance)
        re -= factor * (c + kR * s)
        im -= factor * (kR * c - s)
      }
      const scale = height / (4 * Math.PI)
      outRe[panel] = re * scale
      outIm[panel] = im * scale
    } else {
      const end = finePoints * (panel + 1)
      for (let q = finePoints * panel; q < end; q++) {
        const dx = (fineNodes[3 * q] as number) - x
        const dy = (fineNodes[3 * q + 1] as number) - y
        const dz = (fineNodes[3 * q + 2] as number) - z
        const distance = Math.sqrt(dx * dx + dy * dy + dz * dz)
        const kR = k * distance
        const weight = fineWeightsM2[q] as number
        if (kR < 0.05) {
          // Series of 1 − (1 + jx)e^{−jx} = −x²/2 + jx³/3 + x⁴/8 − …, because the closed form cancels.
          re -= (weight * k * k * (0.5 - (kR * kR) / 8)) / distance
          im += weight * k * k * k * (1 / 3 - (kR * kR) / 30)
        } else {
          const c = Math.cos(kR)
          const s = Math.sin(kR)
          const factor = weight / (distance * distance * distance)
          re += factor * (1 - c - kR * s)
          im += factor * (s - kR * c)
        }
      }
      const scale = 1 / (4 * Math.PI)
      outRe[panel] = (re * height - solidAngle(mesh.corners, 12 * panel, x, y, z)) * scale
      outIm[panel] = im * height * scale
    }
  }
}

/** Signed solid angle of a flat quad seen from a point, sr: positive from the side that its normal points away from. */
function solidAngle(corners: Float64Array, at: number, x: number, y: number, z: number): number {
  return (
    triangleSolidAngle(corners, at, at + 3, at + 6, x, y, z) + triangleSolidAngle(corners, at, at + 6, at + 9, x, y, z)
  )
}

function triangleSolidAngle(
  corners: Float64Array,
  first: number,
  second: number,
  third: number,
  x: number,
  y: number,
  z: number,
): number {
  const ax = (corners[first] as number) - x
  const ay = (corners[first + 1] as number) - y
  const az = (corners[first + 2] as number) - z
  const bx = (corners[second] as number) - x
  const by = (corners[second + 1] as number) - y
  const bz = (corners[second + 2] as number) - z
  const cx = (corners[third] as number) - x
  const cy = (corners[third + 1] as number) - y
  const cz = (corners[third + 2] as number) - z
  const a = Math.sqrt(ax * ax + ay * ay + az * az)
  const b = Math.sqrt(bx * bx + by * by + bz * bz)
  const c = Math.sqrt(cx * cx + cy * cy + cz * cz)
  const triple = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
  const dots =
    a * b * c +
    (ax * bx + ay * by + az * bz) * c +
    (bx * cx + by * cy + bz * cz) * a +
    (cx * ax + cy * ay + cz * az) * b
  return 2 * Math.atan2(triple, dots)
}
