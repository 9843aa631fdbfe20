"""A whole store carried into another: from the folder to PostgreSQL, back, interrupted, refused."""

import contextlib
import hashlib
import re
import signal
import subprocess
import sys
import time
from datetime import datetime

import pytest

from cotterbook.concerns import Concerns
from cotterbook.copies import DailyCopies
from cotterbook.errors import Problem
from cotterbook.moving import digest, move
from cotterbook.stopping import Stopping
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from cotterbook.store.opening import open_store
from examples import OTHER_STRIP, STRIP, entry, picture

EVERYTHING = (1_000, 1_000_000)
PICTURES = [picture(n) for n in range(3)]


def start(*arguments, command="move"):
    return subprocess.Popen([sys.executable, "-m", "cotterbook.cli", command, *map(str, arguments)],
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def run(*arguments, command="move"):
    process = start(*arguments, command=command)
    said, errors = process.communicate(timeout=120)
    return process.returncode, said, errors


def hash_of(data):
    return hashlib.sha256(data).hexdigest()


def fill(store, entries=30, pictures=PICTURES):
    odd = {"values": {"note": "Zoë ✓ \u2028"}, "kind": "to_come", "level": [-0.0, 2**63, "a\x00b", 5e-324]}
    store.append(STRIP, [entry(n, **(odd if n % 7 == 0 else {})) for n in range(entries)])
    store.append(OTHER_STRIP, [entry(entries + n, OTHER_STRIP) for n in range(3)])
    for data in pictures:
        store.put_photo(hash_of(data), data)


def photo(number, data):
    """The entry that speaks of a picture."""
    envelope = {name: entry(number)[name] for name in ("id", "strip", "at", "by", "who")}
    return {**envelope, "kind": "photo", "thing": STRIP, "sha256": hash_of(data), "media_type": "image/jpeg",
            "bytes": len(data), "width": 24, "height": 24}


def files_of(folder):
    """Every file with its bytes, but for what only says who holds the folder."""
    return {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*")
            if path.is_file() and path.name not in ("lock", "held_by")}


def contents(store):
    return ({strip: store.read(strip, 0, *EVERYTHING) for strip in store.strips()},
            {sha256: store.get_photo(sha256) for sha256 in store.photos()})


@pytest.fixture
def folder(tmp_path):
    with contextlib.closing(TinyStore(tmp_path / "data")) as store:
        fill(store)
    return tmp_path / "data"


@pytest.fixture
def url(postgres):
    return postgres.database()


def test_it_goes_to_postgresql_and_back_with_numbers_and_values_as_they_were(folder, url, tmp_path, postgres):
    before = files_of(folder)
    code, said, errors = run("--data", folder, "--to", url)
    assert (code, errors) == (0, "")
    assert "strip-downs 2, entries 33, pictures 3. All of it was read back" in said
    with contextlib.closing(TinyStore(folder)) as first, contextlib.closing(open_store(tmp_path, url)) as second:
        assert contents(first) == contents(second)
        assert repr(contents(first)) == repr(contents(second))
        assert first.identity != second.identity
        sums = {strip: digest(first.read(strip, 0, *EVERYTHING).entries) for strip in first.strips()}
    assert all(f"{strip}: entries {count}, SHA-256 {sha256}" in said for strip, (count, sha256) in sums.items())
    assert files_of(folder) == before
    code, said, errors = run("--store", url, "--to", tmp_path / "back")
    assert (code, errors) == (0, "")
    assert postgres.password not in said
    for kind in ("strips", "photos"):
        assert files_of(tmp_path / "back" / kind) == files_of(folder / kind)


def test_the_digest_is_of_canonical_json_a_line_each():
    """SHA-256 (FIPS 180-4) of the JSON by names in order without blanks, worked with printf and sha256sum."""
    lines = b'{"a":[1,"\\u00e9"],"b":1}\n{}\n'
    assert digest([{"b": 1.0, "a": [1, "é"]}, {}]) == (2, hashlib.sha256(lines).hexdigest())


def test_a_target_with_data_of_its_own_is_refused_and_not_changed(folder, url, tmp_path):
    with contextlib.closing(open_store(tmp_path, url)) as target:
        target.append(STRIP, [entry(0, who="Bob")])
        before = contents(target)
        for add in (lambda: None, lambda: target.put_photo(hash_of(b"other"), b"other")):
            add()
            code, said, errors = run("--data", folder, "--to", url)
            assert (code, said) == (1, "") and "There are other entries or pictures already" in errors
        assert contents(target)[0] == before[0]
    with contextlib.closing(TinyStore(tmp_path / "of somebody")) as target:
        fill(target, entries=31)
    assert run("--data", folder, "--to", tmp_path / "of somebody")[0] == 1


@pytest.mark.parametrize("command", ["move", "backup", "export"])
def test_a_database_that_nobody_served_from_is_told_and_left_as_it_is(postgres, tmp_path, command):
    url = postgres.database()
    goal = {"move": ["--to", tmp_path / "new"], "backup": ["--to", tmp_path], "export": [tmp_path / "new.zip"]}
    code, said, errors = run("--data", tmp_path / "data", "--store", url, *goal[command], command=command)
    assert (code, said) == (1, "") and "There are no strip-downs in the database" in errors
    assert postgres.execute("SELECT count(*) FROM pg_namespace WHERE nspname = 'cotterbook'", url) == [(0,)]


def test_a_second_time_finds_all_of_it_there(folder, url):
    assert run("--data", folder, "--to", url)[0] == 0
    code, said, errors = run("--data", folder, "--to", url)
    assert (code, errors) == (0, "") and "entries 33, pictures 3." in said


# So many that the signal comes before the last, on a busy machine too.
PICTURES_TO_STOP_IN = 900


def held_still(process, target):
    """Whether the first pictures have come, seen while the program stands still; else it goes on for a moment."""
    process.send_signal(signal.SIGSTOP)
    if target.photos():
        return True
    process.send_signal(signal.SIGCONT)
    time.sleep(0.05)
    return False


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_it_is_interrupted_and_begun_again(tmp_path, url, number):
    folder = tmp_path / "data"
    with contextlib.closing(TinyStore(folder)) as store:
        fill(store, 3_000, [picture(n, 60) for n in range(PICTURES_TO_STOP_IN)])
    process = start("--data", folder, "--to", url)
    assert STRIP in process.stdout.readline()
    with contextlib.closing(open_store(tmp_path, url)) as target:
        end = time.monotonic() + 60
        while not held_still(process, target):
            assert time.monotonic() < end
        process.send_signal(number)
        process.send_signal(signal.SIGCONT)
        errors = process.communicate(timeout=60)[1]
        assert process.returncode == (1 if number != signal.SIGKILL else -signal.SIGKILL)
        assert ("Give the same command again, and it goes on" in errors) == (number != signal.SIGKILL)
        assert 0 < len(target.photos()) < PICTURES_TO_STOP_IN
    code, said, errors = run("--data", folder, "--to", url)
    assert (code, errors) == (0, "") and f"entries 3003, pictures {PICTURES_TO_STOP_IN}." in said


class Tidied:
    """Something whose tidying up is in the way of a signal."""

    def __del__(self):
        signal.raise_signal(signal.SIGINT)


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_a_signal_that_python_forgets_ends_it_at_the_next_picture(folder, tmp_path):
    with contextlib.closing(TinyStore(tmp_path / "other")) as target, contextlib.closing(TinyStore(folder)) as source:
        with Stopping() as stopping:
            thing = Tidied()
            del thing
            with pytest.raises(KeyboardInterrupt):
                move(source, target, look=stopping.look)
        assert target.strips() == {} and target.photos() == []


def test_damaged_lines_and_pictures_of_the_source_are_told_and_the_rest_is_carried(folder, url, tmp_path):
    path = folder / "strips" / f"{STRIP}.jsonl"
    lines = path.read_bytes().split(b"\n")
    lines[5] = lines[5][:-5] + b"xxxxx"
    path.write_bytes(b"\n".join(lines))
    (folder / "photos" / (hash_of(PICTURES[1]) + ".jpg")).write_bytes(PICTURES[1][:-9])
    before = files_of(folder)
    code, said, errors = run("--data", folder, "--to", url)
    assert code == 0 and "entries 32, pictures 2." in said
    assert "lines that are damaged and cannot be read: 1." in errors
    assert f"The picture {hash_of(PICTURES[1])} was damaged" in errors
    assert files_of(folder) == before
    with contextlib.closing(open_store(tmp_path, url)) as target:
        assert [each["id"] for each in target.read(STRIP, 0, *EVERYTHING).entries] == [
            entry(n)["id"] for n in range(30) if n != 4]


def test_a_folder_that_is_served_or_is_none_is_not_carried(folder, url, tmp_path):
    with contextlib.closing(TinyStore(folder)):
        code, _, errors = run("--data", folder, "--to", url)
    assert code == 1 and "is in use by another Cotterbook" in errors
    code, _, errors = run("--data", tmp_path / "nothing", "--to", url)
    assert code == 1 and "There are no strip-downs in the folder" in errors
    assert not (tmp_path / "nothing").exists()
    code, _, errors = run("--data", folder, "--to", folder)
    assert code == 1 and "That is the store itself" in errors


class Growing:
    """A store to which somebody adds an entry as soon as the first one was read."""

    def __init__(self, store):
        self._store, self._read = store, False

    def __getattr__(self, name):
        return getattr(self._store, name)

    def read(self, *asked):
        page = self._store.read(*asked)
        if not self._read:
            self._read = True
            self._store.append(STRIP, [entry(500)])
        return page


def test_a_source_that_grows_meanwhile_is_noticed(postgres, tmp_path):
    urls = postgres.database(), postgres.database()
    with contextlib.ExitStack() as stack:
        source, target = (stack.enter_context(contextlib.closing(open_store(tmp_path, url))) for url in urls)
        fill(source)
        with pytest.raises(Problem, match="Stop every cotterbook serve"):
            move(Growing(source), target)
        assert move(source, target).entries[STRIP][0] == 31


def test_what_was_kept_otherwise_than_carried_is_noticed(folder, url, tmp_path, postgres):
    """The database itself changes what it is given: a rule that a person laid into it."""
    open_store(tmp_path, url).close()
    postgres.execute("""
        CREATE FUNCTION spoil() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
        NEW.entry = replace(NEW.entry, 'note 3', 'note 4'); RETURN NEW; END $$;
        CREATE TRIGGER spoil BEFORE INSERT ON cotterbook.entries FOR EACH ROW EXECUTE FUNCTION spoil()
    """, url)
    code, said, errors = run("--data", folder, "--to", url)
    assert code == 1 and "was read back is not what was carried" in errors and "Carried to" not in said
    assert sum(1 for _ in FolderReader(folder).strips()) == 2


def test_the_way_back_for_a_database_is_a_copy_taken_into_an_empty_one(postgres, tmp_path):
    """The README's way, by a copy of the terminal and by one of each day, whose pictures lie beside it."""
    lost, *empty = (postgres.database() for _ in range(3))
    data = tmp_path / "data"
    with contextlib.closing(open_store(data, lost)) as store:
        fill(store, pictures=PICTURES[:2])
        store.append(STRIP, [photo(100 + n, picture) for n, picture in enumerate(PICTURES)])
        before, identity = contents(store), store.identity
        daily = DailyCopies(store, data, 14, Concerns(store, data)).look(datetime(2026, 3, 1, 18, 30))
    code, said, _ = run("--store", lost, "--data", data, command="backup")
    assert code == 0 and "entries 36, pictures 2." in said
    copies = said.partition(":")[0], daily
    shared = "Pictures that the copies in .* share, taken in too: 2.\n"
    for url, copy, told in zip(empty, copies, ("", shared), strict=True):
        code, said, errors = run(copy, "--store", url, "--data", tmp_path / "other", command="import")
        assert (code, errors) == (0, "")
        assert re.search(
            r"New here: entries 36\.\n" + told + r"Pictures that are not in it and not here: 1\. Phones that have them"
            r" send them\.\n$", said)
        with contextlib.closing(open_store(tmp_path, url)) as store:
            assert contents(store) == before
            # Phones then send all that they hold once more: it is another store.
            assert store.identity != identity
        code, said, errors = run(copy, "--store", url, "--data", tmp_path / "other", command="import")
        assert code == 0 and "New here: entries 0." in said and "share" not in said
    with contextlib.closing(open_store(data, lost)) as store:
        assert contents(store) == before and store.identity == identity


def test_bundles_are_made_of_and_taken_into_postgresql_too(folder, postgres, tmp_path):
    urls = postgres.database(), postgres.database()
    bundle, again = tmp_path / "first.zip", tmp_path / "again.zip"
    with contextlib.closing(TinyStore(folder)) as store:
        store.append(STRIP, [photo(100 + n, data) for n, data in enumerate(PICTURES)])
    assert run("--data", folder, bundle, command="export")[0] == 0
    code, said, errors = run("--store", urls[0], bundle, command="import")
    assert (code, errors) == (0, "") and "pictures 3. New here: entries 36." in said
    with contextlib.closing(open_store(tmp_path, urls[0])):
        code, said, errors = run("--store", urls[0], again, command="export")
    assert (code, errors) == (0, "") and "strip-downs 2, entries 36, pictures 3." in said
    assert run("--store", urls[1], again, command="import")[0] == 0
    with contextlib.ExitStack() as stack:
        first, second, third = (stack.enter_context(contextlib.closing(open_store(*where)))
                                for where in ((folder,), (tmp_path, urls[0]), (tmp_path, urls[1])))
        assert contents(first) == contents(second) == contents(third)
