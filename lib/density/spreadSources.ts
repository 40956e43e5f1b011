import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {mean} from "../stats/mean.ts";
import {varianceComponents} from "../stats/varianceComponents.ts";
import {densityUncertainty} from "../wood/densityUncertainty.ts";
import {type WoodName, woodConstants} from "../wood/species.ts";

/** Where the spread of one supplier's densities comes from: standard deviations, kg/m³ at 12 %. */
export interface SpreadSource {
  species: string;
  supplier: string;
  squares: number;
  lots: number;
  betweenLotsKgM3?: number;
  withinLotKgM3?: number;
  /** What scale, calliper, tape and meter alone would scatter. */
  measuringKgM3: number;
  /** Share of the variance within a lot that is only measuring. */
  measuringFraction?: number;
}

/**
 * Spread of density split into between lots and within a lot (one-way variance components, ANOVA method), with the part of it that is only
 * measuring error, propagated from the accuracies in the settings.
 *
 * Source: Searle, Casella & McCulloch (1992), Variance Components, §3.6 (from memory). Checked: tests/density/spreadSources.test.ts
 */
export function spreadSources({settings, pieces}: Pick<Histories, "settings" | "pieces">): SpreadSource[] {
  const groups = groupBy(pieces, ({species, supplier}) => JSON.stringify([species, supplier]));
  return [...groups.values()].map((own) => {
    const {species, supplier} = own[0]!;
    const lots = [...groupBy(own, ({lot}) => lot).values()];
    const parts = varianceComponents(lots.map((lot) => lot.map(({densityAt12KgM3}) => densityAt12KgM3)));
    const wood = woodConstants(settings.species[species]!.wood as WoodName);
    const {scaleG, calliperMm, tapeMm, meterPct} = settings.accuracy;
    const errors = own.map(({intake}) => {
      const {lengthMm, widthMm, thicknessMm, massG, moisturePct} = intake;
      return densityUncertainty({
        lengthMm,
        widthMm,
        thicknessMm,
        massG,
        moisturePct,
        species: wood,
        scaleG,
        calliperMm,
        tapeMm,
        meterPct
      }).at12KgM3;
    });
    const measuringKgM3 = Math.sqrt(mean(errors.map((error) => error ** 2))!);
    const within = parts?.within;
    return {
      species,
      supplier,
      squares: own.length,
      lots: lots.length,
      ...(parts && {betweenLotsKgM3: Math.sqrt(parts.between), withinLotKgM3: Math.sqrt(parts.within)}),
      measuringKgM3,
      ...(within !== undefined && within > 0 && {measuringFraction: Math.min(1, measuringKgM3 ** 2 / within)})
    };
  });
}
