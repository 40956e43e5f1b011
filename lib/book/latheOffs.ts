import type {Histories} from "./histories.ts";

/** How far each diameter measured fresh from the lathe came out from its stage's target at the large end, mm; none where the stage has no target. */
export function latheOffs({settings, pieces}: Pick<Histories, "settings" | "pieces">, stage: string): number[] {
  const target = settings.stages.find(({name}) => name === stage)?.largeMm;
  return pieces.flatMap(({measurements}) =>
    measurements.flatMap(({stage: at, diameterMm, turned}) =>
      at === stage && turned && diameterMm !== undefined && target !== undefined ? [diameterMm - target] : []
    )
  );
}
