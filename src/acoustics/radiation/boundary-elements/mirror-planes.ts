/**
 * The planes x = 0, y = 0 and z = 0 in which a body (not its sound) is its own mirror image. A body of which only one
 * part is meshed is that part and its images. Image g of 2^m is the product of mirrors of the bits set in g.
 */
export type MirrorPlanes = { x: boolean; y: boolean; z: boolean }

/** Signs (+1 or −1) that image g gives to the three coordinates, for each image in order. */
export function imageSigns(planes: MirrorPlanes): [number, number, number][] {
  let images: [number, number, number][] = [[1, 1, 1]]
  if (planes.x) images = [...images, ...images.map(([x, y, z]): [number, number, number] => [-x, y, z])]
  if (planes.y) images = [...images, ...images.map(([x, y, z]): [number, number, number] => [x, -y, z])]
  if (planes.z) images = [...images, ...images.map(([x, y, z]): [number, number, number] => [x, y, -z])]
  return images
}

/**
 * Sorts values at the images of a point into their parts of each parity, in place:  f_χ = Σ_g χ(g) f(g), where parity χ
 * is a set of bits and χ(g) is −1 to the number of bits that χ and g share. Applied twice it multiplies by the number of
 * images.
 *
 * @param values  one number for each image; as many as a power of two
 * Source: the fast Walsh–Hadamard transform.
 */
export function sortParities(values: Float64Array): void {
  sortPanelParities(values, values.length)
}

/**
 * sortParities for every panel of a surface, in place.
 *
 * @param values  image after image, each with a number for every panel
 * @param images  how many images
 */
export function sortPanelParities(values: Float64Array, images: number): void {
  const count = values.length
  for (let step = count / images; step < count; step *= 2) {
    for (let first = 0; first < count; first += 2 * step) {
      for (let i = first; i < first + step; i++) {
        const a = values[i] as number
        const b = values[i + step] as number
        values[i] = a + b
        values[i + step] = a - b
      }
    }
  }
}
