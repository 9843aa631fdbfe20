"""Every error the program can report: its code, its HTTP status and its sentence.

A sentence says what happened, what was kept and what to do, to a person with a phone; see `terminal_words` for others.
"""

KEPT = " Nothing was lost: your entries stay on this phone."

# code, HTTP status, English text with its gaps
ERRORS = (
    ("bad_request", 400, "The PC could not make sense of {what}. Nothing was stored."),
    ("bad_json", 400, "What was sent is not proper JSON ({what}). Nothing was stored."),
    ("csrf", 400, "The page's security token is missing or out of date." + KEPT + " Send again."),
    ("not_paired", 401, "This device is not paired with the PC." + KEPT + " Ask the owner for a pairing code."),
    ("revoked", 401,
     "The owner has taken this device off the list." + KEPT + " Hand them over by a file, or pair it again."),
    ("not_allowed", 403, "This device may not do that here. Nothing was changed. Ask the owner."),
    ("only_looks_on", 403, "This device may look on, and not write." + KEPT + " Ask the owner for another role."),
    ("wrong_code", 403,
     "This code is not right, was used already, or is older than five minutes. Ask the owner for a new one."),
    ("device_known", 409,
     "This device is on the list already, and this browser no longer has what lets it in." + KEPT + " Let an owner take"
     " it off the list (Sending, Devices of this shop), then pair it with a new code. If no other owner is left: give"
     " “cotterbook pair” on the PC, pair another browser with its code, and take this device off the list there."),
    ("too_often", 429, "Too many tries. Wait {minutes} minutes, then try again."),
    ("too_much_at_once", 429,
     "More than {limit} requests at once from this device. Nothing of this one was stored. It goes across by itself"
     " when the others are done."),
    ("many_codes", 429, "Too many codes wait to be used. Wait five minutes."),
    ("many_devices", 409, "There are {limit} devices on the list, and no more can be added."),
    ("bad_name", 422, "A device needs a name of 1 to {limit} letters on one line. Nothing was changed."),
    ("bad_name_character", 422,
     "A device's name can't hold the unseen character {character}: it breaks the line, or turns letters round so that"
     " the list shows another name. Nothing was changed. Type the name anew."),
    ("no_such_device", 404, "There is no such device on the list."),
    ("devices_damaged", 500,
     "The list of devices ({file}) cannot be read. Move it away and start again: nobody is on the list then, and every"
     " device is paired anew. Entries and pictures are not in it, and what phones have not sent stays on them."),
    ("elsewhere", 421,
     "The PC’s pages are at {address} now, and nothing was stored here. What this phone has stays on it: hand it over"
     " by a file (Sending, Carry by file), then open that address and pair there."),
    ("not_found", 404, "There is nothing at this address on the PC."),
    ("no_such_photo", 404, "The PC does not hold this picture."),
    ("wrong_method", 405, "This address cannot be used that way."),
    ("phone_too_old", 409,
     "Cotterbook {version} on this phone is too old for the PC, which takes {least} or later. Nothing was stored, and"
     " everything stays on this phone. Take the newer version on Sending; then it goes across."),
    ("other_store", 409,
     "The PC's data are others than before. Nothing was stored yet; this phone sends all that it holds once more."),
    ("too_many_entries", 413, "More than {limit} entries at once. Nothing was stored. Send fewer at a time."),
    ("too_many_hashes", 413, "More than {limit} pictures asked about at once. Ask about fewer at a time."),
    ("request_too_big", 413, "More than {limit} bytes at once. Nothing was stored. Send less at a time."),
    ("photo_too_big", 413, "The picture is larger than {limit} bytes. It stays on this phone; take a smaller one."),
    ("too_many_pixels", 413, "The picture has more than {limit} pixels. It stays on this phone; take a smaller one."),
    ("not_a_picture", 415, "The file is no whole JPEG picture. It was not stored; take the picture again."),
    ("picture_carries_more", 415,
     "The picture carries more than itself ({what}), which can say where and by what it was taken. It was not stored,"
     " and stays on the phone. Take the newest Cotterbook there and add the photo again: it leaves that out."),
    ("came_too_slowly", 408,
     "The network is too slow for what was sent, or it broke off. Nothing was stored, and everything stays on this"
     " phone. It is sent again by itself; go nearer to the network's antenna."),
    ("hash_differs", 422, "The picture was damaged on its way. It stays on this phone; send it again."),
    ("fault", 500, "Something went wrong on the PC." + KEPT + " What happened is written where the PC's program runs."),
    ("pc_trouble", 500,
     "The PC has trouble with what it keeps." + KEPT + " Tell the owner: the PC's screen says what it is."),
    ("disk_trouble", 500, "The PC could not write to its disk ({what})." + KEPT + " Look at the PC, then send again."),
    ("disk_full", 507, "The PC's disk is full." + KEPT + " Make room on the PC, then send again."),
    ("disk_for_entries", 507,
     "The PC's disk is nearly full: what is left is for entries, which still go across. The picture stays on this"
     " phone. Make room on the PC, then send again."),
    ("changed_outside", 500,
     "The file {file} was changed by another program while Cotterbook had it open." + KEPT
     + " Start Cotterbook on the PC again."),
    ("newer_format", 500,
     "The file {file} was written by a newer Cotterbook. It was not touched. Install that version or a later one."),
    ("folder_held", 500,
     "The folder {folder} is in use by another Cotterbook ({holder}). Stop that one first, or choose another"
     " folder with --data."),
    ("no_such_folder", 404,
     "There are no strip-downs in the folder {folder}. Nothing was changed. Choose another with --data."),
    ("nothing_in_database", 404,
     "There are no strip-downs in the database {database}. Choose another with --store."),
    ("folder_unusable", 500,
     "Cotterbook cannot write in the folder {folder} ({what}). Nothing was changed. Choose another folder, or let"
     " yourself write there."),
    ("no_folder_for_copy", 500,
     "There is no folder {folder} for the copy, and none can be made ({what}). No copy was made, and the data are as"
     " they were. Choose another with --to."),
    ("is_a_folder", 400, "{file} is a folder. Nothing was changed. Give the name of a file."),
    ("not_printed", 500,
     "What was to be printed could not be written ({what}). What the command did is done. Print to somewhere with"
     " room."),
    ("foreign_folder", 409,
     "The folder {folder} holds files of something else ({example}) and nothing of Cotterbook. Nothing was put there."
     " Choose another: an empty one, a new one, or the one where your data are."),
    ("nothing_of_ours", 404,
     "There is nothing of Cotterbook in the folder {folder}. No code was made, and no folder. Correct --data, or start"
     " cotterbook serve with that folder first."),
    ("not_served", 409,
     "The folder {folder} is not served now, and a code opens only what is served. No code was made. Start cotterbook"
     " serve with that folder first, and ask for a code from another terminal."),
    ("serving_ended", 500,
     "What serves the pages ended by itself. What was acknowledged is on the disk, and what was not stays on the"
     " phones. Start Cotterbook again."),
    ("file_exists", 409, "There is a file {file} already. It was not touched: choose another name."),
    ("no_such_file", 404, "There is no file {file}. Nothing was changed. Give the name of a bundle or a copy."),
    ("picture_closed", 500,
     "Cotterbook may not read the picture {file} ({what}). It is as it was, and so is everything else there. Give"
     " yourself the right to read it and give the same command again; or move it out of that folder first, and it is"
     " left out."),
    ("no_such_strip", 404, "There is no strip-down {strip} here. No bundle was made. Take its name from its address."),
    ("no_strip_to_export", 404,
     "The PC does not hold this strip-down yet. Nothing was made. Send to the PC first, then ask for it again."),
    ("exports_busy", 429, "The PC is making other files at this moment. Wait a little, then ask for this one again."),
    ("tables_not_written", 507,
     "The tables could not be written in the folder {folder} ({what}). Nothing was added there. Choose a folder with"
     " room, where you may write."),
    ("page_not_written", 507,
     "The page {file} could not be written ({what}). There is no half of it. Choose a folder with room, where you may"
     " write."),
    ("bundle_not_written", 507,
     "The bundle {file} could not be written ({what}). There is no half of it, and what it was made of is as it was."),
    ("no_bundle", 422, "{file} is no bundle of Cotterbook. Nothing was taken from it."),
    ("bundle_unreadable", 500, "{file} could not be read ({what}). Nothing was taken from it."),
    ("bundle_newer", 422,
     "{file} was made by a newer Cotterbook. Nothing was taken from it. Install that version or a later one."),
    ("bundle_damaged", 422,
     "The bundle was damaged or changed since it was made ({file} in it is not as it was). Nothing was taken from"
     " it. Have it made and carried over again."),
    ("bundle_too_big", 422, "{file} holds more than any bundle of Cotterbook. Nothing was taken from it."),
    ("bundle_entry", 422,
     "An entry of the bundle is not right ({file}, line {line}: {what}) Nothing was taken from it."),
    ("bundle_picture", 422, "A picture of the bundle is not right ({file}: {what}) Nothing was taken from it."),
    ("bundle_differs", 422,
     "An entry of the bundle ({file}, line {line}) is another one here, under the same identifier. Nothing was"
     " taken from the bundle, and what is here is as it was."),
    ("bundle_no_room", 422,
     "The strip-down {strip} would hold more than {limit} entries. Nothing was taken from the bundle."),
    ("no_room_for_strips", 422,
     "There would be more than {limit} strip-downs here. Nothing was taken from the bundle. Take it into another, empty"
     " folder, or have one made of fewer strip-downs."),
    ("import_overtaken", 409,
     "While {file} was taken in, something else wrote here ({what}) A part of the bundle is here, and what was here is"
     " as it was. Give the command again: it says what is in the way."),
    ("store_url", 400,
     "That is no address of a store. Give it as postgresql://USER@HOST/DATABASE; a password in it has % codes for"
     " characters such as @ and /. Without --store everything is in the folder of --data."),
    ("no_driver", 500,
     "What talks to PostgreSQL is not installed. Nothing was touched. pip install"
     " \"psycopg[binary,pool]>=3.2,<4\" brings it."),
    ("database_away", 503,
     "PostgreSQL does not answer: {database} ({what}). Nothing was lost: what was not acknowledged stays on the"
     " phones. See that PostgreSQL runs and can be reached, then try again."),
    ("database_password", 503,
     "PostgreSQL does not let us in: {database} ({what}). Nothing was lost. Check the user in --store and the password,"
     " in the variable PGPASSWORD or the file .pgpass."),
    ("database_unproven", 503,
     "PostgreSQL does not prove over the network that it is the shop's own: {database} ({what}). Neither the password"
     " nor anything of the shop was sent to it, and what was not acknowledged stays on the phones. See that PostgreSQL"
     " has ssl = on and a certificate for the name in --store, and put ?sslrootcert=FILE behind that address, with the"
     " root certificate in FILE. On a network that you trust, ?sslmode=require will do: it keeps what is sent from"
     " readers, but does not check who answers."),
    ("database_missing", 503,
     "PostgreSQL has no such database: {database} ({what}). Nothing was lost. Make it with createdb, or correct"
     " --store."),
    ("database_no_privilege", 503,
     "The user of --store lacks a right in PostgreSQL: {database} ({what}). Nothing was lost. Let the user own the"
     " database: ALTER DATABASE ... OWNER TO ..."),
    ("database_read_only", 503,
     "PostgreSQL takes no writing here: {database}. Nothing was lost. Give the address of the leading server, not of"
     " a standby."),
    ("database_full", 507,
     "The disk of PostgreSQL is full: {database}. Nothing was lost: what was not acknowledged stays on the phones."
     " Make room there, then try again."),
    ("database_old", 500,
     "This PostgreSQL is too old: {database}. Nothing was touched. Version {oldest} or newer is needed."),
    ("database_newer", 500,
     "The database {database} was written by a newer Cotterbook. It was not touched. Install that version or a later"
     " one."),
    ("database_trouble", 500,
     "PostgreSQL reports a fault: {database} ({what}). Nothing was lost: what was not acknowledged stays on the"
     " phones. What happened is in PostgreSQL's log."),
    ("target_not_empty", 409,
     "There are other entries or pictures already: {target}. Nothing was changed. Choose an empty one; what is to come"
     " to data that are there goes with export and import."),
    ("move_onto_itself", 400, "That is the store itself. Nothing was changed. Choose another with --to."),
    ("move_differs", 500,
     "What was read back is not what was carried: {target} ({what}). The store it came from is as it was. Leave the"
     " copy alone and carry into another, empty one."),
    ("move_interrupted", 500,
     "It was stopped before the end. The store it came from is as it was; a part of it is carried. Give the same"
     " command again, and it goes on."),
    ("source_changed", 409,
     "Something was added while it was carried, and may be missing: {target}. Stop every cotterbook serve and give the"
     " same command again."),
    ("bad_host", 400,
     "{host} is no name or private address for a computer on the shop's network. Take one such as shop.local or"
     " 192.168.1.20."),
    ("other_computer", 400,
     "{host} does not lead to this computer, and phones would not find it there. Nothing was changed. Leave --host out,"
     " or take a name under .local, an address that this computer has, or a name that the network gives it."),
    ("only_with_lan", 400,
     "{option} says how phones find this computer, and does nothing without --lan. Nothing was changed, and nothing is"
     " served. Give --lan too, or leave {option} out."),
    ("certificate_and_key", 400, "A certificate of your own needs its key: give --certificate and --certificate-key."),
    ("certificate_unusable", 500, "The certificate {file} can't be used ({what}). Give another. Without one"
     " the shop's own is made, and every phone fetches and trusts that anew."),
    ("certificate_for_another", 409,
     "The certificate {file} is for {names}, and phones know this shop as {kept}. Nothing was changed. Give one that"
     " names that too; or choose another name for good with --new-origin: send everything from every phone first, and"
     " pair them again afterwards."),
    ("origin_damaged", 500,
     "The file {file} does not say where the phones find the pages. Start once with --new-origin and the name and port"
     " that stand in the address on every phone (--host NAME --lan-port PORT; where no port stands in it, 443): for the"
     " phones nothing changes then. With others every phone is paired anew."),
    ("other_origin", 409,
     "Phones know this shop as {kept}, and what they keep belongs to that address. Start without another, or choose"
     " {wanted} for good with --new-origin: send everything from every phone first, and pair them again afterwards."),
    ("trust_damaged", 500,
     "The file {file} is gone, or not the certificate or key that it was. Move the folder trust away and start again: a"
     " new certificate is made, and every phone fetches and trusts it anew. What phones have not sent stays on them."),
    ("port_taken", 500,
     "Port {port} on this computer is taken, perhaps by another Cotterbook. Stop that one first, or choose"
     " another port with --port."),
    ("same_port", 400,
     "Port {port} was given twice. This computer, the phones and the page of trust need three different ones: --port,"
     " --lan-port and --trust-port."),
    ("no_resource", 500, "The folder {name} is missing from this installation. Install Cotterbook again."),
    ("demo_damaged", 500, "The demo data does not load: {what}. Install Cotterbook again."),
)
