-- Reads: squares, lots, species (window and wood constants), question (the day).
-- Gives: one row a square bought by that day: its density at 12 % moisture, kg/m³, and on which side of its species' window that lies.
-- The same double arithmetic in the same order as lib/wood/density.ts and densityAt12.ts, so that the same bits come out: every number is a
-- double (1e2, not 100; 1.12 without an exponent is a decimal), and no engine may be told to reckon faster than IEEE 754.
CREATE VIEW square_densities AS
SELECT
  square,
  lot,
  density_kgm3,
  CASE WHEN density_kgm3 < low_kgm3 THEN 'below' WHEN density_kgm3 > high_kgm3 THEN 'above' ELSE 'inside' END AS side
FROM (
  SELECT
    s.square,
    s.lot,
    w.low_kgm3,
    w.high_kgm3,
    (
      ((1e6 * s.mass_g) / ((s.length_mm * s.width_mm) * s.thickness_mm))
      * (1.12e0 / (1e0 + s.mc_pct / 1e2))
    ) * (
      (
        1e0 - (w.volumetric_pct / 1e2) * (
          CASE WHEN s.mc_pct < w.fibre_saturation_pct THEN w.fibre_saturation_pct - s.mc_pct ELSE 0e0 END
          / w.fibre_saturation_pct
        )
      ) / (1e0 - (w.volumetric_pct / 1e2) * ((w.fibre_saturation_pct - 12e0) / w.fibre_saturation_pct))
    ) AS density_kgm3
  FROM squares s
  JOIN lots l ON l.lot = s.lot
  JOIN species w ON w.species = l.species
  JOIN question q ON l.bought_on <= q.day
) measured
