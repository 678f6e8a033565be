-- Batches and events in partitions by year, for a server of many kitchens. A batch's name begins
-- with its day, so that its name tells the year. Run by the owner in a quiet hour, after
-- `panside store backup`, with the right schema in the search path; then `panside store prepare`
-- gives the new tables their rights. Each December, add the next year's four lines below.
ALTER TABLE batches RENAME TO batches_before;
ALTER TABLE events RENAME TO events_before;
ALTER TABLE events_before DROP CONSTRAINT events_batch_fkey;
ALTER INDEX batches_pkey RENAME TO batches_before_pkey;
ALTER INDEX batches_begun_at RENAME TO batches_before_begun_at;
ALTER INDEX events_pkey RENAME TO events_before_pkey;
CREATE TABLE batches (LIKE batches_before, PRIMARY KEY (id)) PARTITION BY RANGE (id);
CREATE TABLE events (LIKE events_before, PRIMARY KEY (batch, seq)) PARTITION BY RANGE (batch);
CREATE INDEX batches_begun_at ON batches (begun_at);
CREATE TABLE batches_2025 PARTITION OF batches FOR VALUES FROM ('2025-') TO ('2026-');
CREATE TABLE events_2025 PARTITION OF events FOR VALUES FROM ('2025-') TO ('2026-');
CREATE TABLE batches_2026 PARTITION OF batches FOR VALUES FROM ('2026-') TO ('2027-');
CREATE TABLE events_2026 PARTITION OF events FOR VALUES FROM ('2026-') TO ('2027-');
CREATE TABLE batches_2027 PARTITION OF batches FOR VALUES FROM ('2027-') TO ('2028-');
CREATE TABLE events_2027 PARTITION OF events FOR VALUES FROM ('2027-') TO ('2028-');
CREATE TABLE batches_other PARTITION OF batches DEFAULT;
CREATE TABLE events_other PARTITION OF events DEFAULT;
INSERT INTO batches SELECT * FROM batches_before;
INSERT INTO events SELECT * FROM events_before;
ALTER TABLE events ADD CONSTRAINT events_batch_fkey FOREIGN KEY (batch) REFERENCES batches (id);
-- The guards, on the whole and on each part, since a part can be named by itself.
DO $$
DECLARE part regclass;
BEGIN
  FOR part IN
    SELECT relid FROM pg_partition_tree('batches') UNION SELECT relid FROM pg_partition_tree('events')
  LOOP
    EXECUTE format(
      'CREATE TRIGGER %I BEFORE UPDATE OR DELETE OR TRUNCATE ON %s FOR EACH STATEMENT EXECUTE FUNCTION %I()',
      CASE WHEN part::text LIKE 'batches%' THEN 'batches_unchanged' ELSE 'events_unchanged' END,
      part,
      CASE WHEN part::text LIKE 'batches%' THEN 'batches_unchanged' ELSE 'events_unchanged' END
    );
  END LOOP;
END $$;
DROP TABLE events_before;
DROP TABLE batches_before;
