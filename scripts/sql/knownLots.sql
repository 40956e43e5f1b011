-- Reads: lots, question (the day).
-- Gives: the lots bought by that day, days as text (2026-10-31).
CREATE VIEW known_lots AS
SELECT
  l."row",
  l.lot,
  CAST(l.bought_on AS VARCHAR(10)) AS bought_on,
  l.supplier,
  l.species,
  l.squares_bought,
  l.squares_looked_at,
  l.price_each,
  l.carriage,
  l.trip_hours,
  l.trip_miles,
  l.drying,
  l.note
FROM lots l
JOIN question q ON l.bought_on <= q.day
