# Completion for fish.
complete -c hangtrue -f
complete -c hangtrue -n __fish_use_subcommand -a new -d 'Write a door file to start from'
complete -c hangtrue -n __fish_use_subcommand -a check -d 'Check a door'
complete -c hangtrue -n __fish_use_subcommand -a mesh -d 'Mesh a door'
complete -c hangtrue -n __fish_use_subcommand -a keys -d 'Print the reference'
complete -c hangtrue -n '__fish_seen_subcommand_from check mesh' -a '(__fish_complete_suffix .toml)'
complete -c hangtrue -n '__fish_seen_subcommand_from check mesh' -l out -r -a '(__fish_complete_directories)'
complete -c hangtrue -n '__fish_seen_subcommand_from check' -l strict
complete -c hangtrue -n '__fish_seen_subcommand_from mesh' -l level -r -a '1 2 3 4 5'
complete -c hangtrue -l help -d 'Show help'
complete -c hangtrue -n __fish_use_subcommand -l version -d 'Show the version'
