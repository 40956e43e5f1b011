-- Reads: orders, question (the day), given_shafts.
-- Gives: the orders that had come in by that day, days as text (2026-10-31), with the shafts that each has been given.
CREATE VIEW known_orders AS
SELECT
  o."row",
  o."order",
  CAST(o.ordered_on AS VARCHAR(10)) AS ordered_on,
  CAST(o.wanted_by AS VARCHAR(10)) AS wanted_by,
  o.species,
  o.length_mm,
  o.tip_mm,
  o.mass_min_g,
  o.mass_max_g,
  o.deflection_min_mm,
  o.deflection_max_mm,
  o.grain_one_in,
  o.colour,
  o.quantity,
  o.lost,
  o.price_each,
  o.note,
  COALESCE(g.given, 0) AS given
FROM orders o
JOIN question q ON o.ordered_on <= q.day
LEFT JOIN given_shafts g ON g."order" = o."order"
