import {expect, test} from "vitest";
import {speciesTable} from "../../lib/wood/speciesTable.ts";

for (const [name, {latin, ...cited}] of Object.entries(speciesTable)) {
  test(`${name}: every number carries a source and a tag`, () => {
    expect(latin).toMatch(/^(Fraxinus|Acer) [a-z]+$/);
    for (const {value, source, tag} of Object.values(cited)) {
      expect(value).toBeGreaterThan(0);
      expect(source.length).toBeGreaterThan(10);
      expect(["read", "read in a secondary source", "from memory", "computed"]).toContain(tag);
    }
  });

  test(`${name}: along the rings it shrinks more than along a radius, green it is weaker than at 12 %`, () => {
    expect(cited.tangentialPct!.value).toBeGreaterThan(cited.radialPct!.value);
    expect(cited.volumetricPct!.value).toBeGreaterThan(cited.tangentialPct!.value);
    for (const [green, dry] of [
      [cited.ruptureGreenMPa, cited.ruptureMPa12],
      [cited.modulusGreenMPa, cited.modulusMPa12],
      [cited.basicSpecificGravity, cited.specificGravity12]
    ] as const) {
      if (green && dry) expect(dry.value).toBeGreaterThan(green.value);
    }
  });
}
