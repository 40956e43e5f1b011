-- Reads: events, question (the day).
-- Gives: one row a square that had left for good by that day, or was promised: the day and the way it left, and the order it was promised to.
-- Of sound rows a square has one end at most and nothing after it, and one promise, so the order of rows within a day says nothing more.
CREATE VIEW square_ends AS
SELECT
  e.square,
  MAX(CASE WHEN e.event IN ('discarded', 'diverted', 'delivered') THEN e."date" END) AS ended_on,
  MAX(
    CASE
      WHEN e.event = 'discarded' THEN 'discarded: ' || e.defect
      WHEN e.event IN ('diverted', 'delivered') THEN e.event
    END
  ) AS outcome,
  MAX(CASE WHEN e.event IN ('allotted', 'delivered') THEN e."order" END) AS promised_to
FROM events e
JOIN question q ON e."date" <= q.day
WHERE e.event IN ('discarded', 'diverted', 'allotted', 'delivered')
GROUP BY e.square
