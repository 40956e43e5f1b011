-- Reads: square_densities.
-- Gives: squares by lot and density at 12 %, to the nearest tenth of a kg/m³, halves up: the densities of lib/book/bookCounts.ts.
CREATE VIEW density_counts AS
SELECT lot, density_kgm3, COUNT(*) AS squares
FROM (SELECT lot, FLOOR(density_kgm3 * 1e1 + 5e-1) / 1e1 AS density_kgm3 FROM square_densities) stepped
GROUP BY lot, density_kgm3
