/** Names in Python: a point becomes an attribute of a dataclass under its own name, unless the language has taken it. */
import { type NameTable, nameTable } from "../names.js";

// Keywords and soft keywords (The Python Language Reference, 2.3), and what the dataclass itself needs to be understood:
// `self` and the names of the types of its attributes.
const reserved = new Set(
  (
    "False None True and as assert async await break class continue def del elif else except finally for from global if import " +
    "in is lambda nonlocal not or pass raise return try while with yield case match type _ self bool int float"
  ).split(" "),
);

// Modules of the standard library that a file beside them would hide, and file names that Windows keeps for devices.
const modules = new Set(
  (
    "abc aifc antigravity argparse array ast asynchat asyncio asyncore atexit audioop base64 bdb binascii binhex bisect builtins bz2 " +
    "cprofile calendar cgi cgitb chunk cmath cmd code codecs codeop collections colorsys compileall concurrent configparser " +
    "contextlib contextvars copy copyreg crypt csv ctypes curses dataclasses datetime dbm decimal difflib dis distutils doctest " +
    "email encodings ensurepip enum errno faulthandler fcntl filecmp fileinput fnmatch formatter fractions ftplib functools gc " +
    "genericpath getopt getpass gettext glob graphlib grp gzip hashlib heapq hmac html http idlelib imaplib imghdr imp importlib " +
    "inspect io ipaddress itertools json keyword lib2to3 linecache locale logging lzma mailbox mailcap marshal math mimetypes mmap " +
    "modulefinder msilib msvcrt multiprocessing netrc nis nntplib nt ntpath nturl2path numbers opcode operator optparse os " +
    "ossaudiodev parser pathlib pdb pickle pickletools pipes pkgutil platform plistlib poplib posix posixpath pprint profile pstats " +
    "pty pwd py_compile pyclbr pydoc pydoc_data pyexpat queue quopri random re readline reprlib resource rlcompleter runpy sched " +
    "secrets select selectors shelve shlex shutil signal site smtpd smtplib sndhdr socket socketserver spwd sqlite3 sre_compile " +
    "sre_constants sre_parse ssl stat statistics string stringprep struct subprocess sunau symbol symtable sys sysconfig syslog " +
    "tabnanny tarfile telnetlib tempfile termios test textwrap this threading time timeit tkinter token tokenize tomllib trace " +
    "traceback tracemalloc tty turtle turtledemo types typing unicodedata unittest urllib uu uuid venv warnings wave weakref " +
    "webbrowser winreg winsound wsgiref xdrlib xml xmlrpc zipapp zipfile zipimport zlib zoneinfo " +
    "con prn aux nul com1 com2 com3 com4 com5 com6 com7 com8 com9 lpt1 lpt2 lpt3 lpt4 lpt5 lpt6 lpt7 lpt8 lpt9"
  ).split(" "),
);

const keywords = new Set([...reserved].map((word) => word.toLowerCase()));

/** Attributes for the points of one direction. */
export function attributeNames(names: readonly string[], where: string): NameTable {
  return nameTable(names, where, { target: "Python", reserved, case: "sensitive", maxLength: 79 });
}

/** The name of the module, which is also the name of its file; case may not count there. */
export function moduleName(station: string): NameTable {
  const taken = new Set([...modules, ...keywords]);
  return nameTable([station], "station", {
    target: "Python",
    reserved: taken,
    case: "insensitive",
    maxLength: 79,
    suffix: "_station",
  });
}
