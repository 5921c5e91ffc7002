# PIECES...: words as they were typed, into `words`. Bash takes them apart at = and :.
_toothrack_join()
{
	local piece glued=
	words=()
	for piece; do
		if [[ ${#words[@]} -gt 0 && ( $piece == [=:]* || ( $glued && $piece ) ) ]]; then
			words[-1]+=$piece
		else
			words+=("$piece")
		fi
		[[ $piece == *[=:] ]] && glued=yes || glued=
	done
}

# WORDS START: into COMPREPLY those that begin with START, whatever their case. @files stands for names of files.
# `before` is what was typed in front of START and comes with each.
_toothrack_offer()
{
	local word start=$2 names
	for word in $1; do
		if [[ $word == @files ]]; then
			mapfile -t names < <(compgen -f -- "$start")
			COMPREPLY+=("${names[@]/#/$before}")
			compopt -o filenames 2>/dev/null
		elif [[ $word != @* && ${word,,} == "${start,,}"* ]]; then
			COMPREPLY+=("$before$word")
		fi
	done
}

# Options are not counted; `command`, `first` and `count` say what stands before the current word.
_toothrack_read()
{
	local word value=
	command='' first='' count=0
	for word; do
		if [[ $value ]]; then
			value=
		elif [[ $word == --* ]]; then
			[[ $_toothrack_options_with_value == *" $word "* ]] && value=yes
		elif [[ ! $command ]]; then
			command=$word
		elif [[ $word != *=* ]]; then
			[[ $first ]] || first=$word
			count=$((count + 1))
		fi
	done
}

# The kind or topic whose attributes are taken, into `kind`: named first, or that of the tag named first.
_toothrack_find_kind()
{
	kind=
	[[ $(_toothrack_keys "$command") == *@attributes* ]] || return
	kind=$first
	[[ $(_toothrack_attributes "$kind") ]] || kind=$(_toothrack_kind_of "$first")
}

# KEY=START
_toothrack_offer_value()
{
	local key=${1%%=*} start=${1#*=} kind list
	_toothrack_find_kind
	list=$(_toothrack_key_values "$command/$key")
	[[ $list || ! $kind ]] || list=$(_toothrack_attribute_values "$kind/$key")
	before=$key=
	if [[ $start == *,* ]]; then
		before+=${start%,*},
		start=${start##*,}
	fi
	_toothrack_offer "$list" "$start"
}

# START: the bare word that comes next, and the keys not given yet.
_toothrack_offer_word()
{
	local kind key keys=
	_toothrack_offer "$(_toothrack_words "$command/$count")" "$1"
	[[ $command == set && $count == 1 ]] && _toothrack_offer "$(_toothrack_setting_values "$first")" "$1"
	_toothrack_find_kind
	for key in $(_toothrack_keys "$command") $(_toothrack_attributes "$kind"); do
		[[ " ${words[*]:0:${#words[@]}-1} " == *" $key"* ]] || keys+=" $key"
	done
	_toothrack_offer "$keys" "$1"
}

_toothrack()
{
	local words current last before='' command first count
	COMPREPLY=()
	_toothrack_join "${COMP_WORDS[@]:1:COMP_CWORD}"
	current=${words[-1]}
	_toothrack_read "${words[@]:0:${#words[@]}-1}"
	last=''
	[[ ${#words[@]} -lt 2 ]] || last=${words[-2]}
	if [[ $_toothrack_options_with_value == *" $last "* && $last ]]; then
		_toothrack_offer "$(_toothrack_option_values "$last")" "$current"
	elif [[ $current == --*=* ]]; then
		before=${current%%=*}=
		_toothrack_offer "$(_toothrack_option_values "${current%%=*}")" "${current#*=}"
	elif [[ $current == -* ]]; then
		_toothrack_offer "$_toothrack_options" "$current"
	elif [[ ! $command ]]; then
		_toothrack_offer "$_toothrack_commands" "$current"
	elif [[ $current == *=* ]]; then
		_toothrack_offer_value "$current"
	else
		_toothrack_offer_word "$current"
	fi
	# Bash keeps what stands before the = itself, where it takes words apart there.
	if [[ $current == *=* && $COMP_WORDBREAKS == *=* ]]; then
		COMPREPLY=("${COMPREPLY[@]#"${current%%=*}="}")
	fi
	[[ ${#COMPREPLY[@]} -gt 0 && ${COMPREPLY[0]} == *= ]] && compopt -o nospace 2>/dev/null
	return 0
}

complete -F _toothrack toothrack
