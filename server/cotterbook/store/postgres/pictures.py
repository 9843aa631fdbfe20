"""What is asked of the database about pictures: which are held and whole, and which entries name that are not."""

# The hash is taken in the database: a phone asks for hundreds of pictures, and none of their bytes is wanted.
WHOLE = """
    SELECT sha256, encode(sha256(data), 'hex') = sha256 FROM cotterbook.pictures
    WHERE sha256 = ANY(%s) AND NOT damaged
"""
# So many at once that the answer comes well within the time that a statement has.
HASHED_AT_ONCE = 50
SET_ASIDE = """
    UPDATE cotterbook.pictures SET damaged = true
    WHERE sha256 = ANY(%s) AND NOT damaged AND encode(sha256(data), 'hex') <> sha256
"""
KEEP_PICTURE = """
    INSERT INTO cotterbook.pictures AS held (sha256, data) VALUES (%s, %b)
    ON CONFLICT (sha256) DO UPDATE SET data = excluded.data, damaged = false
    WHERE held.damaged OR held.data <> excluded.data
"""
NAME_PICTURES = """
    INSERT INTO cotterbook.named_pictures (sha256, held)
    SELECT sha256, EXISTS (SELECT 1 FROM cotterbook.pictures WHERE pictures.sha256 = new.sha256 AND NOT damaged)
    FROM unnest(%s::text[]) AS new (sha256) ORDER BY sha256 ON CONFLICT DO NOTHING
"""
PICTURE_CAME = "UPDATE cotterbook.named_pictures SET held = true WHERE sha256 = %s AND NOT held"
# Rows are locked in order, so that two processes that find the same never wait for each other crosswise.
PICTURES_GONE = """
    UPDATE cotterbook.named_pictures SET held = false WHERE sha256 IN (
        SELECT sha256 FROM cotterbook.named_pictures WHERE sha256 = ANY(%s) AND held ORDER BY sha256 FOR UPDATE)
"""
LOOK_FOR_PICTURES = """
    UPDATE cotterbook.named_pictures SET held = false WHERE sha256 IN (
        SELECT sha256 FROM cotterbook.named_pictures AS named WHERE held
        AND NOT EXISTS (SELECT 1 FROM cotterbook.pictures WHERE pictures.sha256 = named.sha256)
        ORDER BY sha256 FOR UPDATE)
"""
# Of the few that are said not to be held some may have come meanwhile: one was named and came at the same moment.
AWAITED = """
    SELECT sha256 FROM cotterbook.named_pictures AS named WHERE NOT held
    AND NOT EXISTS (SELECT 1 FROM cotterbook.pictures WHERE pictures.sha256 = named.sha256 AND NOT damaged)
    UNION SELECT sha256 FROM cotterbook.pictures WHERE damaged
"""
