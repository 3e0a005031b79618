# Completion for fish.
complete -c hangtrue -f
complete -c hangtrue -n __fish_use_subcommand -a new -d 'Write a door file to start from'
complete -c hangtrue -n __fish_use_subcommand -a check -d 'Check a door'
complete -c hangtrue -n __fish_use_subcommand -a skins -d 'Ways of holding the inner skin'
complete -c hangtrue -n '__fish_seen_subcommand_from skins' -a '(__fish_complete_suffix .toml)'
complete -c hangtrue -n __fish_use_subcommand -a compare -d 'Compare many variants'
complete -c hangtrue -n __fish_use_subcommand -a find -d 'Find the lightest or cheapest variant that holds'
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
complete -c hangtrue -n '__fish_seen_subcommand_from check compare find mesh' -a '(__fish_complete_suffix .toml)'
complete -c hangtrue -n '__fish_seen_subcommand_from check compare find mesh' -l out -r -a '(__fish_complete_directories)'
complete -c hangtrue -n '__fish_seen_subcommand_from check' -l strict
complete -c hangtrue -n '__fish_seen_subcommand_from check report' -l spread
complete -c hangtrue -n '__fish_seen_subcommand_from check compare find figures report' -l room -r
complete -c hangtrue -n '__fish_seen_subcommand_from mesh' -l level -r -a '1 2 3 4 5'
complete -c hangtrue -n '__fish_seen_subcommand_from compare find' -l try -r
complete -c hangtrue -n '__fish_seen_subcommand_from compare find' -l plan -r -a '(__fish_complete_suffix .toml)'
complete -c hangtrue -n '__fish_seen_subcommand_from compare find' -l workers -r
complete -c hangtrue -n '__fish_seen_subcommand_from compare' -l singly
complete -c hangtrue -n '__fish_seen_subcommand_from compare' -l share -r
complete -c hangtrue -n '__fish_seen_subcommand_from compare' -l gather
complete -c hangtrue -n '__fish_seen_subcommand_from compare' -l fresh
complete -c hangtrue -n '__fish_seen_subcommand_from find' -l by-price
complete -c hangtrue -l help -d 'Show help'
complete -c hangtrue -n __fish_use_subcommand -l version -d 'Show the version'
