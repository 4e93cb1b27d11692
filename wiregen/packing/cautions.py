"""What has to be said to everybody who opens a pack, before anything else."""

from __future__ import annotations

NAME = "read_me_first.txt"

CAUTIONS = """\
READ THIS FIRST

These sheets and lists are a proposal for review. They are not released for construction until a qualified
person has checked and signed them.

Before you touch a terminal
  1. Isolate every supply of the cabinet and of the machine, and secure it against being switched on again.
     Control circuits may be live from elsewhere while the main switch is off.
  2. Wait until stored energy has gone. A motor drive holds a dangerous voltage after it is switched off: wait
     the time that its maker states, and then some. Secure loads that can fall, turn or spring back.
  3. Prove dead, at the place of work, with a tester that you tried on a live source before and after.

Who may do the work
  Installing, changing and testing these circuits is work for people who are trained and authorised for it.

What comes first
  Local codes and regulations, the instructions of the makers of the devices, and the review of a licensed
  person come before anything that stands in these files. Where they differ, these files are wrong.

What the checks are, and are not
  wiregen compares what was declared with general rules of wiring. It does not know the machine, its dangers or
  its surroundings. Its checks are no safety assessment, and a pack without findings is not a safe machine:
  stopping in an emergency, protection against unexpected start and guarding have to be designed, assessed and
  tested by those who are responsible for the machine.

What lies here
  drawings.pdf, sheet-*.svg    terminal diagrams, and the lists as sheets to print
  cable_schedule               cables with cores, spare cores and lengths
  terminations                 every conductor with both its ends
  strips                       every strip terminal with both its sides
  functions                    what each terminal does and what must be set in the device
  readings                     what an instrument should show, state by state
  test_sheet                   what to measure and to try, with room for what was read
  findings                     what the checks found
  moves                        what is not where it was, where something is kept
  faults                       what every single fault does, where it was asked for
  design.json                  all of it, for programs
  pack.json                    which files wiregen wrote, with their checksums

Lists come as CSV (exact, for programs and label printers) and as XLSX (for people).
"""
