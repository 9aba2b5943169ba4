/** The option that has a commit judged as on its day, in a shell: an old one is then judged as it was when it was new. */
export const onCommitDay = '--today "$(git show -s --format=%cs)"';
