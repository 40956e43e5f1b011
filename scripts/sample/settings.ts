import {woods} from "./masses.ts";
import {money, windows} from "./truthDemand.ts";
import {bendTest} from "./truthFeel.ts";
import {defects, stageSettings} from "./truthStages.ts";

/** workshop.json: the example to copy, so most settings are written out though they have defaults. */
export function settingsFile(): string {
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
    suppliers: {
      "Fennaby Yard": {minimum: 20, available: 330},
      "Haskerdene Mill": {minimum: 25, available: 240},
      "Tolverby Saws": {minimum: 20, available: 450},
      "Ludmarsh Timber": {minimum: 20, available: 180},
      "Osmerley Wharf": {minimum: 20, available: 180},
      "Thrawl Bridge Yard": {minimum: 20, available: 270},
      "Quillmoor Sawpit": {minimum: 20, available: 135}
    }
  };
  return `${JSON.stringify(settings, undefined, 2)}\n`;
}
