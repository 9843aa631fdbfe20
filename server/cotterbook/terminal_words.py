"""What the terminal and the log say where the table of errors speaks to a phone, by code.

Of a file in a bundle only what is wrong with it: the sentence about the bundle says the rest.
"""

AT_THE_TERMINAL = {
    "bad_json": "it is not proper JSON ({what}).",
    "bundle_not_written":
        "The bundle {file} could not be written ({what}). There is no half of it, and what it was made of is as it was."
        " See that the folder is there and has room, then give the command again.",
    "no_strip_to_export": "There is no such strip-down here. Nothing was made. Take its name from its address.",
    "photo_too_big": "it is larger than {limit} bytes.",
    "too_many_pixels": "it has more than {limit} pixels.",
    "not_a_picture": "it is no whole JPEG picture.",
    "picture_carries_more": "it carries more than itself ({what}), which can say where and by what it was taken.",
    "disk_trouble":
        "The disk could not be read or written ({what}). Nothing that was kept is lost, and phones keep what was not"
        " stored. See to the disk, then give the command again; phones send by themselves.",
    "disk_full":
        "The disk is full. Nothing that was kept is lost, and phones keep what was not stored. Make room, then give the"
        " command again; phones send by themselves.",
    "disk_for_entries":
        "The disk is nearly full: what is left is for entries. Nothing that was kept is lost, and phones keep their"
        " pictures. Make room, then give the command again; phones send by themselves.",
    "changed_outside":
        "The file {file} was changed by another program while Cotterbook had it open. Nothing more was written to it,"
        " and phones keep what was not stored. Stop the other program, then start Cotterbook again.",
}
