/**
 * What a metre of quilting cotton 112 cm wide weighs, in g. Two sources agree: 1 lb for 4 yd, which is 124 g/m
 * ("Stash report", quiltninwilton.blogspot.com, 2014), and 125 g/m ("Time to tame those scraps",
 * aussiekiltedquilter.blogspot.com, 2016).
 */
export const COTTON_GRAMS_PER_METRE = 125;

/** Length in mm of cloth that weighs so much: an estimate, good to what the scales and the weight of a metre are. */
export function lengthByWeight(grams: number, gramsPerMetre: number): number {
  if (!(grams > 0)) throw new RangeError(`lengthByWeight: grams must be greater than zero, got ${grams}`);
  if (!(gramsPerMetre > 0))
    throw new RangeError(`lengthByWeight: gramsPerMetre must be greater than zero, got ${gramsPerMetre}`);
  return (grams / gramsPerMetre) * 1000;
}
