# Completion for bash.
_hangtrue()
{
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}
  if [[ $before == --out ]]; then
    mapfile -t COMPREPLY < <(compgen -d -- "$word")
    return
  fi
  if [[ $COMP_CWORD -eq 1 ]]; then
    mapfile -t COMPREPLY < <(compgen -W 'new check skins figures report compare find mesh keys --help --version' -- "$word")
    return
  fi
  case ${COMP_WORDS[1]} in
    check) mapfile -t COMPREPLY < <(compgen -W '--out --strict --spread --room --help' -- "$word"; compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word") ;;
    skins) mapfile -t COMPREPLY < <(compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word") ;;
    compare) mapfile -t COMPREPLY < <(compgen -W '--try --plan --singly --out --workers --share --gather --fresh --room --help' -- "$word"; compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word") ;;
    find) mapfile -t COMPREPLY < <(compgen -W '--try --plan --by-price --out --workers --room --help' -- "$word"; compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word") ;;
    figures) mapfile -t COMPREPLY < <(compgen -W '--out --only --size --format --room --help' -- "$word"; compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word") ;;
    report) mapfile -t COMPREPLY < <(compgen -W '--out --number --revision --date --paper --spread --room --help' -- "$word"; compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word") ;;
    mesh) mapfile -t COMPREPLY < <(compgen -W '--out --level --help' -- "$word"; compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word") ;;
    *) mapfile -t COMPREPLY < <(compgen -f -- "$word") ;;
  esac
}
complete -o filenames -F _hangtrue hangtrue
