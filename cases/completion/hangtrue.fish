# Completion for fish.
complete -c hangtrue -f
complete -c hangtrue -n __fish_use_subcommand -a new -d 'Write a door file to start from'
complete -c hangtrue -n __fish_use_subcommand -a check -d 'Check a door'
complete -c hangtrue -n __fish_use_subcommand -a figures -d 'Draw the figures of a door'
complete -c hangtrue -n __fish_use_subcommand -a report -d 'Write the sheet of a door'
complete -c hangtrue -n '__fish_seen_subcommand_from figures report' -a '(__fish_complete_suffix .toml)'
complete -c hangtrue -n '__fish_seen_subcommand_from figures report' -l out -r -a '(__fish_complete_directories)'
complete -c hangtrue -n '__fish_seen_subcommand_from figures' -l only -r
complete -c hangtrue -n '__fish_seen_subcommand_from figures' -l size -r
complete -c hangtrue -n '__fish_seen_subcommand_from figures' -l format -r -a 'png svg pdf'
complete -c hangtrue -n '__fish_seen_subcommand_from report' -l number -r
complete -c hangtrue -n '__fish_seen_subcommand_from report' -l revision -r
complete -c hangtrue -n '__fish_seen_subcommand_from report' -l date -r
complete -c hangtrue -n '__fish_seen_subcommand_from report' -l paper -r -a 'letter a4'
complete -c hangtrue -n __fish_use_subcommand -a mesh -d 'Mesh a door'
complete -c hangtrue -n __fish_use_subcommand -a keys -d 'Print the reference'
complete -c hangtrue -n '__fish_seen_subcommand_from check mesh' -a '(__fish_complete_suffix .toml)'
complete -c hangtrue -n '__fish_seen_subcommand_from check mesh' -l out -r -a '(__fish_complete_directories)'
complete -c hangtrue -n '__fish_seen_subcommand_from check' -l strict
complete -c hangtrue -n '__fish_seen_subcommand_from mesh' -l level -r -a '1 2 3 4 5'
complete -c hangtrue -l help -d 'Show help'
complete -c hangtrue -n __fish_use_subcommand -l version -d 'Show the version'
