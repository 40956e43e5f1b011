-- Reads: square_ends.
-- Gives: the shafts that each order has been given, those delivered among them. A shaft thrown out or put to other use is promised no more.
CREATE VIEW given_shafts AS
SELECT promised_to AS "order", COUNT(*) AS given
FROM square_ends
WHERE promised_to IS NOT NULL AND (outcome IS NULL OR outcome = 'delivered')
GROUP BY promised_to
