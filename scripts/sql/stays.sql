-- Reads: squares, lots, events, stages (each with its place in order, the first 0), question (the day), square_ends.
-- Gives: one row a square and stage: the days it got there and left, and how it left. Stages that a turning passed over begin and end on its day.
-- A square reaches its stages in their order, so their places order its turnings, those of one day too.
CREATE VIEW stays AS
WITH reached AS (
  SELECT s.square, 0 AS place, l.bought_on AS day
  FROM squares s
  JOIN lots l ON l.lot = s.lot
  JOIN question q ON l.bought_on <= q.day
  UNION ALL
  SELECT e.square, t.place, e."date" AS day
  FROM events e
  JOIN stages t ON t.stage = e.stage
  JOIN question q ON e."date" <= q.day
  WHERE e.event = 'turned'
),
followed AS (
  SELECT
    square,
    place,
    day,
    LEAD(place) OVER (PARTITION BY square ORDER BY place) AS next_place,
    LEAD(day) OVER (PARTITION BY square ORDER BY place) AS next_day
  FROM reached
)
SELECT
  f.square,
  t.stage,
  CASE WHEN t.place = f.place THEN f.day ELSE f.next_day END AS from_day,
  CASE WHEN f.next_place IS NULL THEN e.ended_on ELSE f.next_day END AS to_day,
  CASE
    WHEN f.next_place IS NOT NULL THEN 'passed'
    WHEN e.outcome IS NOT NULL THEN e.outcome
    WHEN e.promised_to IS NOT NULL THEN 'allotted'
  END AS outcome
FROM followed f
JOIN stages t ON t.place BETWEEN f.place AND COALESCE(f.next_place - 1, f.place)
LEFT JOIN square_ends e ON e.square = f.square
