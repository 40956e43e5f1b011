-- Reads: stays, square_densities.
-- Gives: squares by lot, stage, days (as text, 2026-10-31), way of leaving and side of the window: the spells of lib/book/bookCounts.ts.
CREATE VIEW spell_counts AS
SELECT
  d.lot,
  s.stage,
  CAST(s.from_day AS VARCHAR(10)) AS from_day,
  CAST(s.to_day AS VARCHAR(10)) AS to_day,
  s.outcome,
  d.side,
  COUNT(*) AS squares
FROM stays s
JOIN square_densities d ON d.square = s.square
GROUP BY d.lot, s.stage, s.from_day, s.to_day, s.outcome, d.side
