import {woods} from "./masses.ts";
import {money, windows} from "./truthDemand.ts";
import {bendTest} from "./truthFeel.ts";
import {defects, stageSettings} from "./truthStages.ts";

/** The least number of squares that a supplier sells at a time, and how many it has in a season. */
const supply = {
  "Fennaby Yard": {minimum: 20, available: 330},
  "Haskerdene Mill": {minimum: 25, available: 240},
  "Tolverby Saws": {minimum: 20, available: 450},
  "Ludmarsh Timber": {minimum: 20, available: 180},
  "Osmerley Wharf": {minimum: 20, available: 180},
  "Thrawl Bridge Yard": {minimum: 20, available: 270},
  "Quillmoor Sawpit": {minimum: 20, available: 135}
};

/**
 * workshop.json: the example to copy, so most settings are written out though they have defaults.
 *
 * @param size how many times what the suppliers have
 */
export function settingsFile(size = 1): string {
  const settings = {
    name: "The Merrowick workshop",
    stages: stageSettings,
    defects,
    species: {
      ash: {wood: woods.ash, windowKgM3: windows.ash},
      maple: {wood: woods.maple, windowKgM3: windows.maple}
    },
    season: {startsOn: "06-01"},
    money,
    accuracy: {scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 1.2},
    bendTest,
    suppliers: Object.fromEntries(
      Object.entries(supply).map(([name, {minimum, available}]) => [
        name,
        {minimum, available: Math.max(minimum, Math.round(available * size))}
      ])
    )
  };
  return `${JSON.stringify(settings, undefined, 2)}\n`;
}
