const WORDS: Readonly<Record<string, string>> = {
  EISDIR: "it is a folder",
  ENOTDIR: "a part of its path is no folder",
  EACCES: "that is not permitted",
  EPERM: "that is not permitted",
  EROFS: "the disk is read-only",
  ENOSPC: "the disk is full",
  EDQUOT: "the share of the disk is used up",
  EFBIG: "the disk takes no file of that size",
  EIO: "the disk reports a fault",
  EPIPE: "its reader has closed it",
  ELOOP: "its links lead in a circle",
  ENAMETOOLONG: "the name is too long",
  EMFILE: "too many files are open",
  ENFILE: "too many files are open",
  EBUSY: "it is in use",
};

/** Why the system refused, in words; `missing` where it found nothing. */
export function why(fault: unknown, missing = "it is not there"): string {
  const code = (fault as NodeJS.ErrnoException).code ?? String(fault);
  return code === "ENOENT" ? missing : (WORDS[code] ?? code);
}
