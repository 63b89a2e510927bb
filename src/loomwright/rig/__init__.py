"""The rig: what the user describes, and the job file it is written in.

`model` holds the rig as everything above sees it: complete, checked, in SI units.
`job` holds the job file as a person writes it, with much left out.
`assemble` fills what was left out and lists it as assumptions.
`read` reads a job file and reports every bad field at once.
`write` lays a job out as a file, `edit` changes one value of a file, `schema` is for editors.
`vin` checks vehicle identification numbers.
"""
